"""What the record pages say: a page a batch, a page a tray, the index."""

from dataclasses import replace
from datetime import date

import list_jobs
import plans
import pytest
import record_jobs
from record_jobs import job

from traysheets.page.record import Fact, Item, RecordPage, Section, Task, Way
from traysheets.sheets.batch_record import MOST_MAPS
from traysheets.sheets.job import Job
from traysheets.sheets.records import record_pages
from traysheets.sheets.steps import Step, days, steps
from traysheets.sheets.steps import Task as Work


def pages(made: Job | None = None) -> dict[str, RecordPage]:
    return {page.path: page for page in record_pages(made or job())}


def section(page: RecordPage, heading: str) -> Section:
    return next(section for section in page.sections if section.heading == heading)


def facts(page: RecordPage, heading: str = "Seed and stand") -> dict[str, str]:
    """The facts of a section as they are read: value and note."""
    return {fact.label: _read(fact) for fact in section(page, heading).facts}


def _read(fact: Fact) -> str:
    return f"{fact.value} ({fact.note})" if fact.note else fact.value


def test_every_batch_and_tray_has_its_page() -> None:
    assert list(pages()) == ["", "B/27-014-K", "B/27-015-9", "B/27-016-X", "B/27-017-3", "T/1", "T/2", "T/3"]
    assert pages()["B/27-014-K"].file == "B/27-014-K/index.html"
    assert pages()[""].file == "index.html"


def test_only_what_is_sown_on_the_chosen_days_has_pages() -> None:
    later = record_jobs.LATER
    assert list(pages(job(days=(later, later)))) == ["", "B/27-017-3", "T/3"]
    none = date(2030, 1, 1)
    assert list(pages(job(days=(none, none)))) == [""]
    assert pages(job(days=(none, none)))[""].lead == "Nothing is sown on the days chosen."


def test_the_head_of_a_batch() -> None:
    page = pages()["B/27-014-K"]
    assert (page.title, page.subtitle, page.code, page.letters) == (
        "Longstalk Winter",
        "Bunching onion",
        "27-014-K",
        "LW",
    )
    assert page.lead == "20 seeds, scattered, in each of 20 cells"
    assert page.up == Way("All batches", "")
    assert page.footer == "Spring, first sowings, 2027 · Millbrook Lane Growers"
    assert (page.language, page.direction) == ("en", "ltr")
    assert pages()["B/27-016-X"].lead == "3 holes × 3 seeds, in each of 4 cells"


def test_what_to_do_to_a_clump() -> None:
    assert section(pages()["B/27-014-K"], "What to do, and when").tasks == (
        Task("Saturday 6 March 2027", "Sow", "Cover: 6 mm."),
        Task(
            "13 Mar to 20 Mar 2027",
            "Look for seedlings",
            "About 340 of 400 seeds should come up. Leave them all: do not thin.",
        ),
        Task("Saturday 17 April 2027", "Trim", "Cut back where they are long, with clean scissors."),
        Task("Saturday 24 April 2027", "Harden off"),
        Task("1 May to 29 May 2027", "Plant out"),
    )


def test_what_to_do_to_stations_and_single_cells() -> None:
    assert section(pages()["B/27-016-X"], "What to do, and when").tasks == (
        Task("Saturday 6 March 2027", "Sow"),
        Task("12 Mar to 16 Mar 2027", "Look for seedlings", "About 12 of 12 holes should show a seedling."),
        Task("Wednesday 24 March 2027", "Thin", "Leave one in every hole: 3 a cell."),
    )
    assert section(pages()["B/27-017-3"], "What to do, and when").tasks[1] == (
        Task("Saturday 3 April 2027", "Thin", "Leave one in every cell.")
    )


def test_where_a_batch_cut_over_two_trays_stands() -> None:
    stands = section(pages()["B/27-014-K"], "Where it stands")
    assert stands.items == (
        Item("Tray 1", "A1–C6 · 18 cells · light shelf", link="T/1"),
        Item("Tray 2", "A1–A2 · 2 cells · light shelf", link="T/2"),
    )
    assert [picture.caption for picture in stands.pictures] == ["Tray 1: A1–C6", "Tray 2: A1–A2"]
    assert stands.pictures[1].text == (
        "The tray from above, 3 rows of 6 cells, A1 at the black corner."
        " LW, Longstalk Winter: A1–A2. CB, Copper Bell: A3–B4. DR, Dusky Round: B5–C2."
    )


def test_figures_say_how_they_came_about() -> None:
    assert facts(pages()["B/27-014-K"]) == {
        "Seeds in all": "400",
        "Seed weight": "1.18 g (crop table)",
        "Seed lot": "HB-2231",
        "Germination": "85% (tested)",
        "Plants expected": "about 340",
        "Plants to count on": "331 or more (90% sure)",
        "Cover": "6 mm",
        "Soil": "18 °C",
        "Potting mix": "9.2 litres",
        "Kind of tray": "flat of 18 pots",
    }
    shallot = facts(pages()["B/27-015-9"])
    assert shallot["Seeds in all"] == "176 (and 18 set aside · 4 left over)"
    assert shallot["Germination"] == "70% (assumed (legal minimum))"
    assert shallot["Cover"] == "6 mm (crop table)"


def test_chances_and_successions() -> None:
    beet, carrot = facts(pages()["B/27-016-X"]), facts(pages()["B/27-017-3"])
    assert beet["Chance of a full cell"] == "99% (a plant in every hole)"
    assert beet["Packets to open"] == "1"
    assert "Cover" not in beet
    assert carrot["Chance of a full cell"] == "97.8% (a plant in the cell)"
    assert carrot["Succession"] == "2 of 3"


def test_inches_where_the_plan_says_so() -> None:
    inch = facts(pages(job(units="inch"))["B/27-014-K"])
    # 18 C = 64.4 F exactly; 9.2 / 28.316846592 = 0.3249 cubic feet (international foot of 1959).
    assert (inch["Cover"], inch["Soil"], inch["Potting mix"]) == ("1/4 in", "64.4 °F", "0.325 cu ft")


def test_treated_seed_is_cautioned_of_wherever_it_is_handled() -> None:
    made = pages()
    assert [caution.heading for caution in made["B/27-015-9"].cautions] == ["Treated seed"]
    assert [caution.heading for caution in made["T/2"].cautions] == ["Treated seed: Copper Bell"]
    assert all(not made[path].cautions for path in ("", "B/27-014-K", "T/1", "T/3"))


def test_notes_keep_their_lines() -> None:
    notes = section(pages()["B/27-015-9"], "Notes")
    assert notes.text == "Seed from the swap.\nKeep two pots back for the neighbours."
    assert all(section.heading != "Notes" for section in pages()["B/27-014-K"].sections)


def test_a_tray() -> None:
    page = pages()["T/2"]
    assert (page.title, page.lead) == ("Tray 2 of 3", "Sow Saturday 6 March 2027")
    items = section(page, "What stands in it").items
    assert [(item.letters, item.title, item.details, item.code, item.link) for item in items] == [
        ("LW", "Longstalk Winter", "Bunching onion · 20 seeds, scattered · A1–A2", "27-014-K", "B/27-014-K"),
        ("CB", "Copper Bell", "Shallot · 22 seeds, scattered · A3–B4", "27-015-9", "B/27-015-9"),
        ("DR", "Dusky Round", "Beetroot · 3 holes × 3 seeds · B5–C2", "27-016-X", "B/27-016-X"),
    ]
    assert facts(page, "The tray") == {
        "Seeds in all": "252",
        "Cells in use": "14",
        "Cells free": "4",
        "Each cell": "86 mm",
        "Place": "light shelf",
    }
    assert page.on == (Way("Tray 1", "T/1"), Way("Tray 3", "T/3"))


def test_the_index_by_sowing_day() -> None:
    page = pages()[""]
    assert (page.title, page.subtitle) == ("Spring, first sowings", "Millbrook Lane Growers · 2027")
    assert page.lead == "4 batches · 3 trays"
    assert page.contents == "Sowing days"
    assert [day.short for day in page.sections] == ["6 Mar", "20 Mar"]
    assert [
        (day.heading, [item.code for item in day.items], [way.path for way in day.ways]) for day in page.sections
    ] == [
        ("Saturday 6 March 2027", ["27-014-K", "27-015-9", "27-016-X"], ["T/1", "T/2"]),
        ("Saturday 20 March 2027", ["27-017-3"], ["T/3"]),
    ]


def test_a_look_is_one_picture_wherever_it_is_shown() -> None:
    made = pages()
    item = made[""].sections[0].items[1]
    assert item.mark is made["B/27-015-9"].mark is section(made["T/2"], "What stands in it").items[1].mark


def full_trays(number: int) -> Job:
    """One batch in so many trays, the last but half full."""
    return record_jobs.one_batch(number * record_jobs.CELL_72.cells - 36)


@pytest.mark.parametrize(
    ("trays", "maps", "text"), [(MOST_MAPS, MOST_MAPS, ""), (40, 1, "It fills 39 more trays, without maps here.")]
)
def test_a_batch_of_many_trays_shows_the_maps_that_tell_something(trays: int, maps: int, text: str) -> None:
    stands = section(pages(full_trays(trays))["B/27-014-K"], "Where it stands")
    assert (len(stands.items), len(stands.pictures), stands.text) == (trays, maps, text)


def test_a_soil_that_nobody_gave_stands_beside_the_days_that_rest_on_it() -> None:
    """The middle of 18 to 29 °C for onions."""
    made = pages(list_jobs.job(plans.sowing(plans.ONION, seeds_per_cell=25, cells=8, germination=0.85)))
    (page,) = (page for path, page in made.items() if path.startswith("B/"))
    assert section(page, "What to do, and when").tasks[1].details == (
        "About 170 of 200 seeds should come up. Leave them all: do not thin. Soil of 23.5 °C assumed."
    )


def test_a_tender_crop_that_waits_for_the_last_frost_says_so() -> None:
    tomato = plans.sowing(replace(plans.TOMATO, tender=True), "single", seeds_per_cell=1)
    made = pages(list_jobs.job(tomato, last_frost=date(2027, 5, 5)))
    (page,) = (page for path, page in made.items() if path.startswith("B/"))
    task = section(page, "What to do, and when").tasks[-1]
    assert (task.when, task.what, task.details) == ("Wednesday 5 May 2027", "Plant out", "Not before the last frost.")


# ---- steps

WORDS = job().words


def test_steps_stand_by_day_and_leave_out_what_is_not_known() -> None:
    onion, _, _, carrot = job().reckoned.batches
    assert [step.task for step in steps(onion)] == ["sow", "emerge", "trim", "harden_off", "plant_out"]
    assert steps(carrot) == (Step(Work.SOW, record_jobs.LATER), Step(Work.THIN, date(2027, 4, 3)))


@pytest.mark.parametrize(
    ("last", "text"),
    [
        (None, "Monday 28 December 2026"),
        (date(2026, 12, 28), "Monday 28 December 2026"),
        (date(2026, 12, 31), "28 Dec to 31 Dec 2026"),
        (date(2027, 1, 2), "28 Dec 2026 to 2 Jan 2027"),
    ],
)
def test_days_of_a_step(last: date | None, text: str) -> None:
    assert days(Step(Work.EMERGE, date(2026, 12, 28), last), WORDS) == text


def test_thinning_of_no_known_day_follows_sowing() -> None:
    unknown = plans.sowing(list_jobs.UNKNOWN, "single", cells=4, seeds_per_cell=3, germination=0.8)
    pages = list(record_pages(list_jobs.job(unknown)))
    tasks = next(section.tasks for page in pages for section in page.sections if page.path.startswith("B/"))
    assert tasks[1] == Task("When the seedlings have true leaves", "Thin", "Leave one in every cell.")


@pytest.mark.parametrize(
    ("rows", "columns", "said"),
    [
        (1, 1, "The pot from above. "),
        (1, 4, "The tray from above, 4 cells in a line, A1"),
        (4, 1, "The tray from above, 4 cells in a line, A1"),
        (3, 6, "The tray from above, 3 rows of 6 cells, A1"),
    ],
)
def test_a_tray_of_one_row_is_told_as_such(rows: int, columns: int, said: str) -> None:
    kind = replace(plans.POT_18, name="own", rows=rows, columns=columns)
    pages = record_pages(list_jobs.job(plans.sowing(plans.ONION, cells=1, seeds_per_cell=9, tray=kind)))
    told = {picture.text for page in pages for section in page.sections for picture in section.pictures}
    assert all(text.startswith(said) for text in told)
    assert told
