"""Pots that are trays of their own share pages of maps.pdf: which do, what each shows, and that none is lost."""

from dataclasses import replace

import map_jobs
import pytest
from eyes import decode_qr, render
from guide_jobs import said, texts
from map_jobs import TRAYS, batch, fill, job, one_tray
from mark_pages import pdf_of

from traysheets.page.marks import Link
from traysheets.page.proof import overlaps, prove
from traysheets.sheets.maps import map_pages
from traysheets.sheets.pot_maps import together
from traysheets.sheets.stick_places import places


def pots(number, kind="pot-9cm", first=1, index=0, what="clump 25", place="greenhouse"):
    """A batch in so many pots, each a tray."""
    one = batch(index, TRAYS[kind], number, what)
    return one, [fill(TRAYS[kind], [replace(one, cells=1)], first + i, place) for i in range(number)]


def pages_of(number, **other):
    one, trays = pots(number)
    return list(map_pages(job([one], trays, **other)))


def names(page):
    return [text.text for text in texts(page) if text.text.startswith("Tray ") and text.size_pt == 14]


def test_twenty_pots_take_two_pages_and_each_has_its_number():
    pages = pages_of(20)
    assert len(pages) == 2
    assert [name for page in pages for name in names(page)] == [f"Tray {number}" for number in range(1, 21)]


def test_the_legend_adds_up_the_pots_of_its_page():
    one, first = pots(3)
    other, last = pots(2, first=4, index=1, what="stations 3x2")
    (page,) = map_pages(job([one, other], [*first, *last]))
    shown = said(page)
    assert page.title == "Trays 1–5"
    assert "5 × square pot, 90 mm" in shown
    assert "87 seeds" in shown  # 3 × 25 + 2 × 6
    assert "trays 1–3" in shown
    assert "trays 4–5" in shown


@pytest.mark.parametrize(
    "change", [{"kind": "pot-9cm-round"}, {"place": "light shelf"}, {"first": 5}], ids=["kind", "place", "number"]
)
def test_pots_that_differ_share_no_page(change):
    one, first = pots(2)
    other, last = pots(2, index=1, **{"first": 3} | change)
    assert [len(group) for group in together([*first, *last])] == [2, 2]
    assert len(list(map_pages(job([one, other], [*first, *last])))) == 2


def test_pots_of_another_day_share_no_page():
    _, trays = pots(2)
    later = replace(trays[1], sow=map_jobs.plans.SATURDAY.replace(day=13))
    assert [len(group) for group in together([trays[0], later])] == [1, 1]


@pytest.mark.parametrize("kind", ["flat-1020", "flat-1010", "pot-18"])
def test_flats_have_a_page_each(kind):
    one, trays = pots(2, kind)
    assert len(list(map_pages(job([one], trays)))) == 2


def test_a_single_pot_has_its_page_as_before():
    (page,) = map_pages(one_tray("pot-9cm", (1, "clump 25")))
    assert page.title == "Tray 1"


@pytest.mark.parametrize("paper", ["a4", "letter", "a5", "a3"])
@pytest.mark.parametrize("kind", ["pot-9cm", "pot-9cm-round", "block-0.75in", "block-1.5in", "pot-4in"])
def test_pages_of_pots_are_sound(kind, paper):
    one, trays = pots(9, kind)
    pages = list(map_pages(job([one], trays, paper=paper)))
    for page in pages:
        prove(page)
        assert overlaps(page) == []
    assert [name for page in pages for name in names(page)] == [f"Tray {number}" for number in range(1, 10)]


def test_every_pot_has_its_own_code_and_link():
    (page,) = pages_of(4)
    wanted = [f"HTTPS://RECORDS.EXAMPLE.ORG/T/{number}" for number in range(1, 5)]
    assert sorted(decode_qr(render(pdf_of([page])))) == wanted
    assert [mark.url for mark in page.marks if isinstance(mark, Link)] == wanted


@pytest.mark.parametrize(
    ("url", "leads"),
    [("HTTPS://A.EXAMPLE/B/{batch}", True), ("https://a.example/{batch}", False), (None, False)],
    ids=["address of the tray", "address of batches alone", "no address"],
)
def test_codes_are_said_to_lead_to_the_record_of_a_tray_only_where_they_do(url: str | None, leads: bool) -> None:
    (page,) = pages_of(4, record_url=url)
    assert ("each QR code leads to the record of its tray" in said(page)) is leads


def test_a_scale_that_is_asked_for_is_kept():
    pages = pages_of(6, scale="1:1")
    assert "Scale 1:1" in said(pages[0])
    assert len(pages) == 3


def test_the_stick_of_a_pot_names_its_tray_alone():
    one, trays = pots(3)
    made = job([one], trays)
    assert list(places(made, made.batches[0])) == ["tray 1", "tray 2", "tray 3"]


@pytest.mark.parametrize("side_mm", [75, 110, 120])
def test_pots_that_leave_no_room_for_what_stands_beside_them_have_a_page_each(side_mm):
    """At full size on A5: the number and the QR code beside the pot, or the legend below it, do not go on."""
    kind = replace(TRAYS["pot-9cm"], outer_mm=(side_mm,) * 2, cell_mm=(side_mm - 4,) * 2, pitch_mm=(side_mm,) * 2)
    one = batch(0, kind, 3, "clump 25")
    trays = [fill(kind, [replace(one, cells=1)], number) for number in (1, 2, 3)]
    pages = list(map_pages(job([one], trays, paper="a5", scale="1:1")))
    assert [page.title for page in pages] == ["Tray 1", "Tray 2", "Tray 3"]
