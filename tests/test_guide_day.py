"""The first page of a sowing day: one packet open at a time, who does what, the cautions, the trays."""

from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import guide_jobs
import plans
import pytest

from traysheets.arrange.model import ArrangedTray, Run
from traysheets.page.marks import BLACK, WHITE, Page, Path, Place, Rect
from traysheets.page.proof import overlaps, prove
from traysheets.sheets.guide import guide_pages
from traysheets.sheets.guide_steps import duties
from traysheets.sheets.guide_trays import alike
from traysheets.sheets.job import Job
from traysheets.sheets.pictures.day_steps import Step
from traysheets.sheets.pictures.pen import BOLD_MM, COLOURED

NAMES = ("Longstalk Winter", "Copper Bell", "Dusky Round")


def small_job(**other: object) -> Job:
    batches = [
        guide_jobs.batch(0, "pot-18", 8, "clump 25", lot="HB-1"),
        guide_jobs.batch(1, "pot-18", 4, "clump 22", "Shallot", lot="HB-2"),
        guide_jobs.batch(2, "cell-72", 30, "single 1", "Lettuce", lot="HB-3"),
    ]
    return guide_jobs.job(batches, **other)  # type: ignore[arg-type]


def day_pages(job: Job) -> list[Page]:
    """The pages that stand before those of the batches."""
    return [page for page in guide_pages(job) if not guide_jobs.placed(page, "right")]


def order_said(page: Page, parts: tuple[str, ...]) -> list[str]:
    """Which of the texts stand on a page, from the top down."""
    found = {text.text: text.y_mm for text in guide_jobs.texts(page) if text.text in parts}
    return sorted(found, key=lambda part: found[part])


# ---- which page follows which


def test_the_day_comes_first_then_its_batches_in_the_order_of_the_packets() -> None:
    titles = [page.title for page in guide_pages(small_job())]
    assert titles[0] == "Sow Saturday 6 March 2027"
    assert [title.partition(":")[0] for title in titles[1:]] == list(NAMES)


def test_every_day_has_its_own_pages() -> None:
    job = small_job()
    later = replace(job.reckoned.batches[2], sow=plans.SATURDAY + timedelta(days=7))
    trays = tuple(replace(t, sow=later.sow) if later.index in t.batches else t for t in job.arranged.trays)
    reckoned = replace(job.reckoned, batches=(*job.reckoned.batches[:2], later))
    pages = list(guide_pages(replace(job, reckoned=reckoned, arranged=replace(job.arranged, trays=trays))))
    assert [page.title.partition(":")[0] for page in pages] == [
        "Sow Saturday 6 March 2027", "Longstalk Winter", "Copper Bell", "Sow Saturday 13 March 2027", "Dusky Round",
    ]  # fmt: skip


def test_rows_tell_the_page_that_teaches_the_batch() -> None:
    pages = list(guide_pages(small_job()))
    said = guide_jobs.said(pages[0])
    for number, page in enumerate(pages, 1):
        if guide_jobs.placed(page, "right"):
            assert f"see page {number}" in said
            assert f"page {number} of {len(pages)}" in guide_jobs.said(page)


# ---- one packet at a time


def test_packets_stand_in_the_order_of_work_each_under_its_number() -> None:
    page = day_pages(small_job())[0]
    assert order_said(page, NAMES) == list(NAMES)
    discs = sorted(
        guide_jobs.placed(page, "number 1") + guide_jobs.placed(page, "number 3"), key=lambda disc: disc.y_mm
    )
    assert [disc.stamp.name for disc in discs] == ["number 1", "number 3"]


def test_batches_from_one_packet_stand_together_under_one_number() -> None:
    batches = [
        guide_jobs.batch(0, "pot-18", 8, "clump 25", lot="HB-1"),
        guide_jobs.batch(1, "pot-18", 4, "clump 22", "Shallot", lot="HB-2"),
        guide_jobs.batch(2, "cell-72", 30, "single 1", lot="HB-1", variety="Longstalk Winter"),
    ]
    pages = list(guide_pages(guide_jobs.job(batches)))
    assert "2 packets" in guide_jobs.said(pages[0])
    assert not guide_jobs.placed(pages[0], "number 3")
    assert [page.title.partition(":")[0] for page in pages[1:]] == [
        "Longstalk Winter",
        "Longstalk Winter",
        "Copper Bell",
    ]


def test_a_packet_is_opened_sown_covered_and_shut_before_the_next() -> None:
    steps = list(Step)
    of_a_packet = steps[steps.index(Step.OPEN) : steps.index(Step.CLOSE) + 1]
    assert of_a_packet == [Step.OPEN, Step.SOW, Step.FINISH, Step.CLOSE]
    assert steps[:2] == [Step.FILL, Step.MARK]


def test_rows_say_how_many_and_how_deep_and_where() -> None:
    said = guide_jobs.said(day_pages(small_job())[0])
    for part in (
        "Scatter 25 seeds",
        "Cover 6 mm, loosely",
        "tray 1: A1–B2",
        "1 hole 6 mm deep, 1 seed in it",
        "200",
        "lot HB-3",
    ):
        assert part in said
    assert "Trays 1–3 · 3 packets · 318 seeds" in said


def test_rows_show_the_cell_with_its_seeds() -> None:
    page = day_pages(small_job())[0]
    shown = [len(guide_jobs.placed(place.stamp, "seed")) for place in guide_jobs.placed(page, "cell, small")]
    assert shown == [25, 22, 1]


def test_the_day_leaves_covering_and_watering_to_the_page_of_each_batch() -> None:
    page = day_pages(guide_jobs.one("cell-72", 30, "single 1", "Celery", 0.0))[0]
    said = guide_jobs.said(page)
    assert "Finish as its page says" in said
    assert "Do not cover" in said
    assert said.count("over") == said.count("not cover")
    assert "Water" not in said.replace("Water and power", "")


def test_the_way_runs_from_each_step_to_the_next_and_from_the_last_of_a_packet_back_to_the_first() -> None:
    page = day_pages(small_job())[0]
    places = {step: guide_jobs.placed(page, f"day: {step}")[0] for step in Step}
    (tall,) = {place.stamp.height_mm for place in places.values()}
    (wide,) = {place.stamp.width_mm for place in places.values()}
    shafts = [mark for mark in page.marks if isinstance(mark, Path) and len(mark.d) == 2 and mark.stroke_mm == BOLD_MM]
    ends = [[tuple(map(float, point[1:])) for point in shaft.d] for shaft in shafts]

    def joins(one: Step, other: Step) -> bool:
        (x1, y1), (x2, y2) = ((place.x_mm + wide / 2, place.y_mm + tall / 2) for place in (places[one], places[other]))
        for (sx, sy), (ex, ey) in ends:
            level = abs(sy - y1) < 0.1 and abs(sy - y2) < 0.1 and abs(ey - sy) < 0.01
            upright = abs(sx - x1) < 0.1 and abs(sx - x2) < 0.1 and abs(ex - sx) < 0.01
            between = min(x1, x2) <= sx <= max(x1, x2) and min(y1, y2) - tall <= sy <= max(y1, y2) + tall
            onward = (ex - sx) * (x2 - x1) > 0 or (ey - sy) * (y2 - y1) > 0
            if (level and abs(x2 - x1) < 2 * wide and between and onward) or (upright and onward):
                return True
        return False

    steps = list(Step)
    assert all(joins(one, other) for one, other in pairwise(steps))
    assert joins(Step.CLOSE, Step.OPEN)
    assert not joins(Step.SOW, Step.CHECK)
    assert len(shafts) == len(steps)  # one to each next step, and the one that goes back


def test_hands_are_gloved_only_where_all_seed_is_treated_and_the_glove_stands_at_its_packet() -> None:
    def pages(*treated: bool) -> Page:
        return day_pages(guide_jobs.job([guide_jobs.batch(i, treated=it) for i, it in enumerate(treated)]))[0]

    def glove(page: Page) -> bool:
        (sow,) = guide_jobs.placed(page, "day: sow")
        return any(isinstance(mark, Path) and mark.fill == COLOURED.glove for mark in sow.stamp.marks)

    assert [glove(pages(*treated)) for treated in ((False, False), (False, True), (True, True))] == [False, False, True]
    badges = [len(guide_jobs.placed(pages(*treated), "sign: treated")) for treated in ((False,), (False, True))]
    assert badges == [0, 2]


# ---- who does what


@pytest.mark.parametrize("helpers", [1, 2, 3, 9])
def test_one_helper_alone_has_the_packets_in_hand(helpers: int) -> None:
    found = duties(helpers)
    assert set(found) == set(Step)
    keepers = {shirts for step, shirts in found.items() if step in {Step.OPEN, Step.CLOSE}}
    assert len(keepers) == 1
    assert all(len(shirts) <= 1 for shirts in keepers)
    told = {shirt for shirts in found.values() for shirt in shirts}
    assert len(told) == (0 if helpers == 1 else min(helpers, 3))


def test_one_who_sows_alone_is_given_no_roles() -> None:
    one, three = (len(day_pages(small_job(helpers=n))[0].marks) for n in (1, 3))
    assert one < three


# ---- cautions


def test_all_cautions_are_said_whole() -> None:
    said = guide_jobs.said(day_pages(small_job())[0])
    for part in (
        "Potting mix",
        "Damp it before handling, keep the dust down, let in air, wash hands after. It can carry Legionella.",
        "Cut away from yourself, close them after use.",
        "Lift with bent knees, large ones with two people.",
        "Keep water and wet hands away from lights, plugs and heat mats.",
        "Follow the packet, the safety sheet and local rules.",
    ):
        assert part in said
    assert "Treated seed" not in said


def signs(page: Page) -> list[str]:
    return [mark.stamp.name for mark in page.marks if isinstance(mark, Place) and mark.stamp.name.startswith("sign: ")]


def test_every_caution_has_its_sign_and_treated_seed_comes_first_where_there_is_any() -> None:
    plain = day_pages(small_job())[0]
    assert signs(plain) == ["sign: mix", "sign: knives", "sign: lifting", "sign: water"]
    treated = guide_jobs.job([guide_jobs.batch(0, treated=True)])
    page = day_pages(treated)[0]
    assert signs(page)[0] == "sign: treated"
    assert "TREATED SEED: WEAR GLOVES" in guide_jobs.said(page)


@pytest.mark.parametrize(
    ("paper", "warnings"),
    [("a4", ["TREATED SEED: WEAR GLOVES", "SEMILLA TRATADA: GUANTES"]), ("a5", ["TREATED", "TRATADA"])],
)
def test_a_treated_packet_is_warned_of_in_both_languages(paper: str, warnings: list[str]) -> None:
    """In few words on A5. The plates lie below each other, none over another."""
    pages = day_pages(guide_jobs.job([guide_jobs.batch(0, treated=True)], ("en", "es"), paper=paper))
    assert [overlaps(page) for page in pages] == [[] for _ in pages]
    white = [text for page in pages for text in guide_jobs.texts(page) if text.colour == WHITE]
    assert [text.text for text in white if text.text in warnings] == warnings
    marks = [mark for page in pages for mark in page.marks]
    plates = [mark for mark in marks if isinstance(mark, Rect) and mark.fill == BLACK and mark.radius_mm == 0.6]
    upper, lower = sorted(plates, key=lambda plate: plate.y_mm)
    assert upper.y_mm + upper.height_mm < lower.y_mm


@pytest.mark.parametrize("paper", ["a4", "letter", "a3", "tabloid", "a5", "legal"])
@pytest.mark.parametrize("languages", [("en",), ("de", "fr"), ("es", "pt")], ids="-".join)
def test_no_caution_is_cut_on_any_paper_in_any_languages(paper: str, languages: tuple[str, ...]) -> None:
    job = guide_jobs.job([guide_jobs.batch(0, treated=True)], languages, helpers=3, paper=paper)
    for page in guide_pages(job):
        prove(page)
        assert overlaps(page) == []
        assert guide_jobs.cut_off(page) == []


# ---- trays


def filled(number: int, batch: int, cells: int = 18) -> ArrangedTray:
    kind = guide_jobs.TRAYS["pot-18"]
    return ArrangedTray(number, kind, plans.SATURDAY, "", (Run(number, batch, 0, cells),))


def test_trays_filled_alike_are_drawn_once() -> None:
    trays = [filled(1, 0), filled(2, 0), filled(3, 1), filled(4, 1, 5), filled(5, 1, 5), filled(7, 0), filled(8, 0)]
    assert [(it.tray.number, it.last) for it in alike(trays)] == [(1, 2), (3, 3), (4, 4), (5, 5), (7, 8)]


def test_the_trays_of_the_day_are_shown_by_their_numbers() -> None:
    job = guide_jobs.job([guide_jobs.batch(0, "pot-18", 54), guide_jobs.batch(1, "cell-72", 10)])
    said = guide_jobs.said(day_pages(job)[0])
    assert "Trays 1–3" in said
    assert "Tray 4" in said


def test_a_long_day_goes_on_over_pages_and_loses_nothing() -> None:
    batches = [guide_jobs.batch(i, "pot-18", 18, "clump 25", variety=f"Sort {i}") for i in range(30)]
    pages = day_pages(guide_jobs.job(batches))
    assert len(pages) > 2
    said = " ".join(guide_jobs.said(page) for page in pages)
    assert all(f"Sort {i} " in f"{said} " for i in range(30))
    assert all(f"Tray {number}" in said for number in range(1, 31))
