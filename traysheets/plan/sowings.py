"""One sowing: its own answers laid over the defaults, names looked up, and what does not go together found."""

from dataclasses import dataclass

from traysheets.base.errors import Problem
from traysheets.base.limits import MOST_CELLS
from traysheets.plan.filling import Answers
from traysheets.plan.model import Amount, Method, Pin, Repeat, Sowing, Wanted
from traysheets.plan.own import Shelf, found
from traysheets.plan.pins import parse_pin
from traysheets.plan.quantities import SEEN
from traysheets.plan.tables import told_line
from traysheets.plan.texts import listed
from traysheets.trade.crops import Crop
from traysheets.trade.trays import Tray

AMOUNTS = tuple(Wanted)
DAYS = ("sow", "plant_out", "weeks_before_frost")
OF_STATIONS = ("stations", "seeds_per_station")


@dataclass(frozen=True, slots=True)
class Made:
    """What came of a table: the sowing, unless something is wrong with it, and what to check against others."""

    answers: Answers
    tray: Tray | None
    pins: tuple[Pin, ...]
    place: str
    sowing: Sowing | None = None


@dataclass(frozen=True)
class SowingMaker:
    """Makes sowings of a plan: what is the same for all of them, and where problems are put."""

    defaults: Answers
    shelf: Shelf
    place: str
    has_frost_date: bool
    problems: list[Problem]

    def make(self, own: Answers) -> Made:
        """What comes of a table; what is wrong about it is told in `problems`."""
        before = len(self.problems)
        answers = self._with_defaults(own)
        crop, tray = self.look_up(answers)
        method = self._method(answers, crop)
        self._ask_for_what_is_needed(answers)
        repeat = self._repeat(answers)
        pins = self._pins(answers, tray)
        stations = self._stations(answers, crop, method)
        self._refuse_what_does_not_go_together(answers, method)
        self._refuse_too_much(answers, _cells_known(answers, tray, method, stations), repeat, pins)
        place = answers.get("place", self.place)
        if crop is None or tray is None or method is None or answers.bad or len(self.problems) > before:
            return Made(answers, tray, pins, place)
        sowing = _sowing(answers, crop, tray, method, stations, repeat, pins, place)
        return Made(answers, tray, pins, place, sowing)

    def _with_defaults(self, own: Answers) -> Answers:
        """The default of an amount or a day gives way to any the sowing has; those of a method are for that alone."""
        without = {key for group in (AMOUNTS, DAYS) if any(own.given(key) for key in group) for key in group}
        return own.over(self.defaults, frozenset(without))

    def look_up(self, answers: Answers) -> tuple[Crop | None, Tray | None]:
        """The crop and the tray that are named."""
        crop = found(answers, "crop", self.shelf.crop, self.problems)
        return crop, found(answers, "tray", self.shelf.tray, self.problems)

    def _complain(self, answers: Answers, text: str, *keys: str | int) -> None:
        self.problems.append(answers.problem(text, *keys))

    def _ask_for_what_is_needed(self, answers: Answers) -> None:
        for key, help_text in NEEDED.items():
            if not answers.given(key):
                self._complain(answers, f"this sowing needs a {key}{help_text}", key)
        for group in (AMOUNTS, DAYS):
            given = [str(key) for key in group if answers.given(key)]
            if not given:
                self._complain(answers, f"this sowing needs one of {listed(group, 'or')}")
            elif len(given) > 1:
                self._complain(answers, f"{listed(given)} are given together; keep one of them", given[-1])
        if "weeks_before_frost" in answers.values and not self.has_frost_date:
            text = "weeks_before_frost needs the day of the last frost; add last_frost = DATE under [plan]"
            self._complain(answers, text, "weeks_before_frost")
        if answers.get("germination") == SEEN and answers.lacking("lot"):
            self._complain_of_no_lot(answers)

    def _complain_of_no_lot(self, answers: Answers) -> None:
        text = 'germination "seen" is what a lot has shown; name the lot'
        if answers.own("germination"):
            self._complain(answers, text, "germination")
            return
        default = answers.problem("", "germination")
        line = told_line(default.line, default.file, answers.table.file)
        of = f" of '{answers.get('variety')}'" if answers.get("variety") else ""
        self._complain(answers, f"{text} of this sowing{of}, or give it a germination of its own ({line} has it)")

    def _method(self, answers: Answers, crop: Crop | None) -> Method | None:
        if "method" in answers.bad:
            return None
        name = answers.get("method", crop.usual_method if crop else None)
        return Method(name) if name else None

    def _stations(self, answers: Answers, crop: Crop | None, method: Method | None) -> int | None:
        """Holes in a cell: as answered, else what is usual for the crop."""
        if method is not Method.STATIONS or "stations" in answers.bad:
            return None
        usual = crop.stations.value if crop and crop.stations else None
        stations: int | None = answers.get("stations", usual)
        if stations is None and crop:
            text = f"this sowing needs stations, as 3 holes in a cell; there is no usual number for {crop.name}"
            self._complain(answers, text, "stations")
        return stations

    def _refuse_what_does_not_go_together(self, answers: Answers, method: Method | None) -> None:
        """Own keys that are for another method. Defaults for another method are simply not used."""
        if method is Method.STATIONS and answers.own("seeds_per_cell"):
            text = "seeds_per_cell is for clump and single; this sowing has stations, so give seeds_per_station"
            self._complain(answers, text, "seeds_per_cell")
        for key in OF_STATIONS:
            if method in (Method.CLUMP, Method.SINGLE) and answers.own(key):
                usual = "" if answers.given("method") else ", as is usual for the crop"
                text = f'{key} is for the method "stations"; this sowing is sown "{method}"{usual}'
                self._complain(answers, text, key)

    def _repeat(self, answers: Answers) -> Repeat | None:
        form = answers.get("repeat")
        if form is None:
            return None
        if form.every is None or form.times is None:
            self._complain_of_half_a_repeat(answers, "every" if form.every is None else "times")
            return None
        if form.times == 1:
            return None
        for key, what in (("at", "keeps cells"), ("batch", "names the batch")):
            if answers.given(key):
                self._complain(
                    answers, f"{key} {what} of one sowing, and this one is repeated; keep one of the two", key
                )
        return Repeat(form.every, form.times)

    def _complain_of_half_a_repeat(self, answers: Answers, lacking: str) -> None:
        if answers.own("repeat") and answers.table.columns:
            text = "a sowing that is repeated needs both repeat_every and repeat_times, as 2 weeks and 4"
            self._complain(answers, text, "repeat", lacking)
        else:
            self._complain(answers, 'repeat needs every and times, as { every = "2 weeks", times = 4 }', "repeat")

    def _pins(self, answers: Answers, tray: Tray | None) -> tuple[Pin, ...]:
        if tray is None:
            return ()
        pins = []
        for place, text in enumerate(answers.get("at", ())):
            try:
                pins.append(parse_pin(text, tray))
            except ValueError as error:
                self._complain(answers, str(error), "at", place)
        return tuple(pins)

    def _refuse_too_much(
        self, answers: Answers, cells: int | None, repeat: Repeat | None, pins: tuple[Pin, ...]
    ) -> None:
        if cells is None:
            return
        in_all = cells * (repeat.times if repeat else 1)
        if in_all > MOST_CELLS:
            key = next(str(key) for key in AMOUNTS if key in answers.values)
            self._complain(answers, f"this takes {in_all:,} cells in all; {MOST_CELLS:,} are the most", key)
        pinned = sum(pin.cells for pin in pins)
        if pinned > cells:
            self._complain(answers, f"{pinned:,} cells are kept here, but the sowing has {cells:,}", "at")


NEEDED = {
    "crop": "; `traysheets list crops` shows those there are",
    "variety": "; any name that tells it apart will do",
    "tray": ", here or under [defaults]; `traysheets list trays` shows those there are",
}
"""What no sowing can do without, and what helps to find it."""


def _cells_known(answers: Answers, tray: Tray | None, method: Method | None, stations: int | None) -> int | None:
    """How many cells one succession takes, where that can be told without reckoning."""
    cells: int | None = answers.get("cells")
    if "trays" in answers.values and tray:
        cells = answers.values["trays"] * tray.cells
    if "seeds" in answers.values and method:
        in_cell = _seeds_per_cell(answers, method) or (stations or 0) * answers.get("seeds_per_station", 0)
        cells = answers.values["seeds"] // in_cell if in_cell else None
    return cells


def _seeds_per_cell(answers: Answers, method: Method) -> int | None:
    """Seeds of a cell; a default is meant for clumps, or for the default method `single`."""
    if method is Method.STATIONS:
        return None
    seeds: int | None = answers.get("seeds_per_cell")
    if seeds is None or answers.own("seeds_per_cell") or answers.below is None:
        return seeds
    meant_for = Method.SINGLE if answers.below.get("method") == Method.SINGLE else Method.CLUMP
    return seeds if method is meant_for else None


def _sowing(
    answers: Answers,
    crop: Crop,
    tray: Tray,
    method: Method,
    stations: int | None,
    repeat: Repeat | None,
    pins: tuple[Pin, ...],
    place: str,
) -> Sowing:
    germination = answers.get("germination")
    facts = {field: answers.values[key] for key, field in _AS_ANSWERED.items() if key in answers.values}
    return Sowing(
        line=answers.table.line,
        crop=crop,
        method=method,
        amount=next(Amount(wanted, answers.values[wanted]) for wanted in AMOUNTS if wanted in answers.values),
        tray=tray,
        stations=stations,
        seeds_per_station=answers.get("seeds_per_station") if method is Method.STATIONS else None,
        seeds_per_cell=_seeds_per_cell(answers, method),
        germination=None if germination == SEEN else germination,
        germination_seen=germination == SEEN,
        repeat=repeat,
        at=pins,
        place=place,
        **facts,
    )


_SAME_NAME = (
    *("variety", "sow", "plant_out", "weeks_before_frost", "lot", "on_hand", "packet", "treated", "code", "batch"),
    *("sticks", "own_trays", "notes", "confidence", "spare"),
)
_AS_ANSWERED = {"crop": "crop_name", "soil_temp": "soil_temp_c", "cover": "cover_mm"} | {key: key for key in _SAME_NAME}
"""What goes into a sowing as it was answered, by key, and how the sowing calls it; the rest keeps its own default."""
