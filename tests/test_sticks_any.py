"""Whatever label and whatever names a grower has: the stick is well made, or refused in words."""

from typing import Any

import stick_jobs as sj
from hypothesis import given, settings
from hypothesis import strategies as st

from traysheets.base.errors import SheetError
from traysheets.page.marks import Page, Place, Text
from traysheets.page.proof import overlaps, prove
from traysheets.page.reach import Box, box, text_boxes
from traysheets.sheets.sticks import stick_notices, stick_pages
from traysheets.trade.stocks import Stock

LETTERS = "abcdefghijklmnopqrstuvwxyzÅÉÄÖßğĞşÇ" + "αβγδεζηθΨΩάή" + "абвгджйщЖЙЩ" + "-'0123456789"
words = st.lists(st.text(LETTERS, min_size=1, max_size=16), min_size=1, max_size=9).map(" ".join)
lengths = st.floats(10, 160).map(lambda mm: round(mm, 1))


@st.composite
def labels(draw: st.DrawFn) -> Stock:
    size = (draw(lengths), draw(st.floats(8, 80).map(lambda mm: round(mm, 1))))
    stake = draw(st.booleans())
    radius = 0.0 if stake else draw(st.sampled_from([0.0, 1.5, 3.0, min(size) / 2]))
    return Stock("mine", "mine", size, size, 1, 1, (0, 0), size, "right" if stake else "none", radius, cut=stake)


@st.composite
def batches(draw: st.DrawFn) -> dict[str, Any]:
    what = draw(st.sampled_from(["clump 25", "stations 3x2", "single 1", "single 3"]))
    sticks = draw(st.sampled_from(["run", "cell", 2]))
    names = (draw(words), draw(words), draw(words))
    return {
        "names": names,
        "what": what,
        "sticks": sticks,
        "treated": draw(st.booleans()),
        "cells": draw(st.integers(1, 40)),
    }


@settings(max_examples=150, deadline=None)
@given(
    labels(),
    st.lists(batches(), min_size=1, max_size=3),
    st.sampled_from([sj.URL, None, "HTTPS://A.EXAMPLE/B/{batch}"]),
)
def test_any_stick_is_well_made_or_refused(stock: Stock, wanted: list[dict[str, Any]], url: str | None) -> None:
    job = sj.job([sj.batch(n, **one) for n, one in enumerate(wanted)], stock, record_url=url)
    try:
        stick_notices(job)
    except SheetError:
        return
    pages = list(stick_pages(job))
    assert pages
    for page in pages:
        well_made(page, stock)


def well_made(page: Page, stock: Stock) -> None:
    prove(page)
    assert overlaps(page) == []
    width, height = stock.label_mm
    (stick,) = (mark.stamp for mark in page.marks if isinstance(mark, Place) and mark.stamp.name != "outlines")
    texts = [mark for mark in (*stick.marks, *page.marks) if isinstance(mark, Text)]
    codes = [box(mark) for mark in stick.marks if isinstance(mark, Place)]
    assert codes
    assert "code" in {it.face for it in texts}
    assert min(it.size_pt for it in texts) >= 6
    for text, ink in text_boxes(texts):
        assert min(ink[0], ink[1], width - ink[2], height - ink[3]) >= 1.195, f"{text} is at the edge"
        assert not any(meet(ink, code) for code in codes), f"{text} is in a quiet zone"
        assert stock.point == "none" or ink[2] <= width * 2 / 3, f"{text} is in the soil"


def meet(one: Box, other: Box) -> bool:
    across = min(one[2], other[2]) - max(one[0], other[0])
    down = min(one[3], other[3]) - max(one[1], other[1])
    return across > 0.01 and down > 0.01
