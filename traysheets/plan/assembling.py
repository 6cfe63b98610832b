"""All tables of a plan to the `Plan`: tables filled in, sowings made, and checked against each other."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from functools import reduce
from pathlib import Path

from traysheets.base.errors import PlanError, Problem
from traysheets.base.limits import MOST_OWN, MOST_SOWINGS, PRINTER_CHECK_MM
from traysheets.plan.codes import make_codes
from traysheets.plan.filling import Answers, fill
from traysheets.plan.form import Form
from traysheets.plan.model import Bench, Pace, Plan, PrinterTruth, Sowing
from traysheets.plan.own import Shelf, asked, found, shelf
from traysheets.plan.pins import Claim, clashes
from traysheets.plan.quantities import paper_named
from traysheets.plan.remarks import remarks
from traysheets.plan.sections import LISTS, NAMES, form_of, heading
from traysheets.plan.size import TOO_MANY_SOWINGS, as_told, refuse_hopeless
from traysheets.plan.sowings import Made, SowingMaker
from traysheets.plan.tables import Document, Table, told_line
from traysheets.plan.texts import shown
from traysheets.trade.trays import Tray


def plan_of(document: Document) -> Plan:
    """The plan that the tables of a file make. Raises PlanError with every problem there is, in the file's order."""
    problems = list(document.problems)
    plan = _Assembly(document, problems).plan()
    if problems:
        raise PlanError(as_told(problems, document.file))
    assert plan is not None
    return plan


class _Assembly:
    """The tables of one plan filled in; what is wrong goes to `problems`."""

    def __init__(self, document: Document, problems: list[Problem]) -> None:
        self._document = document
        self._problems = problems
        self._one = {name: self._single(name) for name in NAMES if name not in LISTS}
        self._lists = {name: self._list(name) for name in LISTS}
        self._shelf: Shelf = shelf(self._lists["tray"], self._lists["stock"], self._lists["crop"], problems)

    def plan(self) -> Plan | None:
        """The plan; None when anything is wrong with it."""
        facts = self._one["plan"]
        good = self._sowings(facts)
        compare = self._compare()
        benches = self._benches()
        found(facts, "stock", self._shelf.stock, self._problems)
        found(facts, "paper", paper_named, self._problems)
        if self._problems:
            return None
        plan = self._assembled(facts, _with_codes(good), compare, benches)
        return replace(plan, notices=(*self._document.notices, *remarks(plan, self._lists)))

    def _assembled(
        self, facts: Answers, sowings: tuple[Sowing, ...], compare: Tray | None, benches: tuple[Bench, ...]
    ) -> Plan:
        """All that is right put together, with no notices yet."""
        file = Path(self._document.file)
        return Plan(
            file=self._document.file,
            title=facts.get("title", file.stem),
            season=facts.get("season") or _first_year(sowings, facts),
            sowings=sowings,
            trays=self._shelf.trays,
            stocks=self._shelf.stocks,
            grower=facts.get("grower", ""),
            last_frost=facts.get("last_frost"),
            record_url=facts.get("record_url"),
            units=facts.get("units", "metric"),
            languages=facts.get("language", ("en",)),
            place=facts.get("place", ""),
            stock=facts.get("stock"),
            paper=paper_named(facts.values["paper"]).name if "paper" in facts.values else None,
            compare=compare,
            benches=benches,
            pace=self._pace(),
            printer=self._printer(),
            fonts=tuple(str(file.parent / font) for font in facts.get("fonts", ())),
        )

    def _single(self, section: str) -> Answers:
        """The answers of a section that stands once, those of the plan over those of the settings."""
        filled = self._list(section) or [Answers(Table({}, self._document.file, 1), {})]
        return reduce(lambda above, below: above.over(below), filled)

    def _list(self, section: str) -> list[Answers]:
        form, headed = form_of(section), heading(section)
        tables = self._document.tables(section)
        most = MOST_SOWINGS if section == "sowing" else MOST_OWN
        if len(tables) > most:
            text = TOO_MANY_SOWINGS if section == "sowing" else f"a plan may have {most:,} of {headed}; leave some out"
            raise PlanError(tables[most].problem(text))
        return [self._filled(form, table, headed) for table in tables]

    def _filled(self, form: type[Form], table: Table, headed: str) -> Answers:
        """The answers of a table, unless so much is wrong already that it is of no use to read on."""
        refuse_hopeless(self._problems, self._document.file)
        return fill(form, table, self._problems, headed)

    def _sowings(self, facts: Answers) -> list[Sowing]:
        """The sowings that have nothing wrong with them, each checked against all others."""
        defaults = self._one["defaults"]
        defaults = replace(defaults, bad=defaults.bad | self._document.lacking)
        has_frost_date = facts.given("last_frost")
        maker = SowingMaker(defaults, self._shelf, facts.get("place", ""), has_frost_date, self._problems)
        maker.look_up(defaults)
        if "sowing" not in self._document.sections:
            text = "there is no sowing in this plan yet; add one"
            self._problems.append(Problem(text, self._document.file, 1))
        made = []
        for answers in self._lists["sowing"]:
            refuse_hopeless(self._problems, self._document.file)
            made.append(maker.make(answers))
        self._refuse_too_many_batches(made)
        for key in ("code", "batch"):
            self._refuse_doubles([one.answers for one in made], key)
        claims = [Claim(one.answers, one.tray, one.pins, one.place) for one in made if one.tray and one.pins]
        self._problems.extend(clashes(claims))
        return [one.sowing for one in made if one.sowing]

    def _refuse_too_many_batches(self, made: list[Made]) -> None:
        """Sowings and their successions; told at the one with which it becomes too many."""
        batches = 0
        for one in made:
            batches += one.sowing.repeat.times if one.sowing and one.sowing.repeat else 1
            if batches > MOST_SOWINGS:
                text = f"with its successions the plan comes to {batches:,} batches here; {MOST_SOWINGS:,} are the most"
                self._problems.append(one.answers.problem(f"{text}; make several plans of it", "repeat"))
                return

    def _refuse_doubles(self, sowings: list[Answers], key: str) -> None:
        lines: dict[str, int] = {}
        for answers in sowings:
            value = answers.get(key)
            if value and value in lines:
                text = f"the {key} {value} is that of line {lines[value]} already; give this sowing another"
                self._problems.append(answers.problem(text, key))
            elif value:
                lines[value] = answers.table.line

    def _compare(self) -> Tray | None:
        answers = self._one["compare"]
        if self._document.tables("compare") and answers.lacking("tray"):
            self._problems.append(answers.problem("[compare] lacks tray"))
        return found(answers, "tray", self._shelf.tray, self._problems)

    def _benches(self) -> tuple[Bench, ...]:
        benches: dict[str, Bench] = {}
        for answers in self._lists["bench"]:
            if not asked(answers, "bench", ("name", "length", "depth"), self._problems):
                continue
            get, table = answers.get, answers.table
            bench = Bench(get("name"), get("length"), get("depth"), get("shelves", 1), table.line, table.file)
            first = benches.setdefault(bench.name.casefold(), bench)
            if first is not bench:
                line = told_line(first.line, first.file, table.file)
                text = f"a bench {shown(bench.name)} stands in {line} already; give this one another name"
                self._problems.append(answers.problem(text, "name"))
        return tuple(benches.values())

    def _pace(self) -> Pace:
        get = self._one["pace"].get
        return Pace(get("single"), get("clump"), get("stations"), get("helpers", 1))

    def _printer(self) -> PrinterTruth:
        get = self._one["printer"].get
        across, down = get("measured_across", PRINTER_CHECK_MM), get("measured_down", PRINTER_CHECK_MM)
        return PrinterTruth(
            across / PRINTER_CHECK_MM, down / PRINTER_CHECK_MM, get("shift_right", 0.0), get("shift_down", 0.0)
        )


def _with_codes(sowings: list[Sowing]) -> tuple[Sowing, ...]:
    """The sowings, each with a code for the map."""
    silent = [(sowing.variety, sowing.crop_name) for sowing in sowings if not sowing.code]
    codes = make_codes(silent, {sowing.code for sowing in sowings})
    return tuple(sowing if sowing.code else replace(sowing, code=next(codes)) for sowing in sowings)


def _first_year(sowings: Iterable[Sowing], facts: Answers) -> int:
    """The year of the earliest day that the plan names for a sowing."""
    days = (sowing.sow or sowing.plant_out or facts.values["last_frost"] for sowing in sowings)
    earliest: date = min(days)
    return earliest.year
