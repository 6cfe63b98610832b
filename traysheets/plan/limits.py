"""How much a plan may ask for, all in one place. Generous: more is a slip of the finger, or two plans in one."""

MOST_BYTES = 50_000_000
DEEPEST_NESTING = 20
"""Of brackets and dotted keys in TOML."""
MOST_LETTERS_IN_NAME = 500
MOST_LETTERS_IN_NOTES = 5_000
MOST_LETTERS_IN_QUANTITY = 60
MOST_LETTERS_IN_BATCH = 20

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
MOST_STICKS = 100_000

HIGHEST_CONFIDENCE = 0.9999
MOST_SPARE = 9.99
"""Seed set aside, as a fraction of what is sown."""

MOST_REPEATS = 366
LONGEST_GAP_DAYS = 731
MOST_WEEKS = 104
FIRST_SEASON, LAST_SEASON = 1900, 2999

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
MOST_LANGUAGES = 2
"""The guide has room for two."""
MOST_PRINTER_SHIFT_MM = 25
PRINTER_CHECK_MM = 200
"""What the ruler of the printer's check page is meant to measure, and how far out a printer may be."""
MOST_PRINTER_ERROR_MM = 20
