"""How much anything may ask for, all in one place. Generous: more is a slip of the finger, or two plans in one.

What keeps within these is answered, or refused, in seconds and in a few hundred MiB. Not here: how large things are
drawn, which is each sheet's own business. DEVELOPERS.md has these as a table.
"""

# ---- the plan as a file

MOST_BYTES = 20_000_000
"""Of a plan or a settings file: a kilobyte for each of the most sowings there may be."""
MOST_VALUES = 500_000
"""Keys, items and tables in TOML, by the marks that come before them; more take long to read and much memory."""
MOST_FIELDS = 1_000_000
"""Of a spreadsheet; most of them are empty."""
DEEPEST_NESTING = 20
"""Of brackets and dotted keys in TOML."""
MOST_KEYS = 1_000
"""Keys of a table, tables of a plan, columns of a spreadsheet."""
MOST_IN_LIST = 5_000
"""Items of a list in brackets, as the pinned cells of a sowing."""
MOST_LETTERS_IN_FIELD = 131_072
"""Of a spreadsheet; what Python's reader of CSV takes."""
MOST_PROBLEMS = 1_000
"""That are told at once; nobody reads more."""

# ---- words

MOST_LETTERS_IN_NAME = 500
MOST_LETTERS_IN_NOTES = 5_000
MOST_LETTERS_IN_QUANTITY = 60
MOST_LETTERS_IN_BATCH = 20
MOST_LANGUAGES = 2
"""The guide has room for two."""

# ---- the plan as a whole

MOST_SOWINGS = 20_000
"""Tables or rows; also the batches they become, successions counted."""
MOST_CELLS_IN_PLAN = 5_000_000
"""Of all sowings together, each cell of each succession."""
MOST_TRAYS_IN_PLAN = 100_000
"""Full ones, of all sowings together."""
MOST_OWN = 1_000
"""The grower's own trays, stocks, crops and benches, each."""

# ---- a sowing

MOST_CELLS = 500_000
"""Of one sowing, all its successions together."""
MOST_TRAYS = 50_000
"""Of one sowing, and the highest tray number that may be pinned."""
MOST_PLANTS = 1_000_000
MOST_SEEDS = 10_000_000
"""Of one sowing, and on hand or in a packet."""
MOST_SEEDS_IN_CELL = 20_000
"""An open flat counts as one cell."""
MOST_SEEDS_IN_STATION = 100
MOST_STATIONS = 9
MOST_SEEDS_IN_GRAM = 1_000_000
MOST_STICKS = 100_000
HIGHEST_CONFIDENCE = 0.9999
"""Certainty itself would take seed without end."""
MOST_SPARE = 9.99
"""Seed set aside, as a fraction of what is sown."""
MOST_REPEATS = 366
LONGEST_GAP_DAYS = 731
MOST_WEEKS = 104
FIRST_SEASON, LAST_SEASON = 1900, 2999

# ---- the book, and what phones send

MOST_LETTERS_IN_WHO = 60
MOST_LETTERS_IN_REMARK = 2_000
MOST_LETTERS_IN_KEY = 100
"""Of what tells an entry sent twice from two entries alike."""
MOST_LETTERS_TYPED_TO_FIND = 80
MOST_LETTERS_SCANNED = 1_000
"""Of a code or an address; those of the sheets hold an address, or 47 letters of text."""
LEAST_LETTERS_IN_PHRASE, MOST_LETTERS_IN_PHRASE = 8, 200
"""Of the pass phrase; a longer one would only take the hash longer."""
MOST_BYTES_SENT = 65_536
"""Of a form: a remark, each of its characters in 12 bytes when escaped, and room."""
MOST_CONNECTIONS = 200
"""Of phones to a server, each tab a few."""

# ---- finished sheets read back

MOST_BYTES_OF_SHEET = 1_073_741_824
MOST_PAGES_OF_SHEET = 20_000
MOST_PAGES_UNKNOWN = 300
"""Of a file that does not say that it is ours: all its pages must be searched for codes."""

# ---- sizes

LARGEST_QUANTITY = 10**12
"""No number of millimetres or millilitres reaches it; so every result is finite."""
MOST_ROWS = 200
"""Rows or columns of a tray, or of labels on a page."""
LONGEST_MM = 1_000_000
"""Of a bench; a kilometre."""
LARGEST_TRAY_MM = 5_000
LARGEST_CELL_ML = 1_000_000
DEEPEST_COVER_MM = 500
COLDEST_SOIL_C, WARMEST_SOIL_C = -5, 50
MOST_SHELVES = 1_000
MOST_HELPERS = 1_000
MOST_SECONDS_A_CELL = 3_600
PRINTER_CHECK_MM = 200
"""What the ruler of the printer's check page is meant to measure."""
MOST_PRINTER_SHIFT_MM = 25
MOST_PRINTER_ERROR_MM = 20
"""How far out what a printer makes of it may be."""
