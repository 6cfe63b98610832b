"""Lettering against FreeType (through Pillow), which reads the same fonts on its own; and how text gives way."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from traysheets.base.bundle import bundled
from traysheets.base.errors import SheetError
from traysheets.page import lettering
from traysheets.page.faces import FACES, NARROWER
from traysheets.page.lettering import Fitted, fit, fits, missing, width_mm
from traysheets.page.shaping import logical, shown

TEXTS = ("Longstalk Winter", "27-014-K", "3 × 2 — “Ångström”", "Морковь Ωμεγα", "Tô Quỳnh", "fi ff AV To", "a  b")
MM_PER_POINT = 25.4 / 72
NAMES = st.text(st.sampled_from("abcdeéüßŁЖΩ  --WMil1.,"), max_size=60)


def freetype(face: str) -> ImageFont.FreeTypeFont:
    """The face at 1000 pixels to the em, laid out letter by letter."""
    return ImageFont.truetype(bundled("fonts") / FACES[face], 1000, layout_engine=ImageFont.Layout.BASIC)


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("text", TEXTS)
def test_a_width_is_what_freetype_adds_up(face: str, text: str) -> None:
    assert width_mm(text, face, 72) == pytest.approx(freetype(face).getlength(text) * 25.4 / 1000, abs=0.02)


@pytest.mark.parametrize("face", FACES)
def test_ink_reaches_as_far_as_freetype_draws(face: str) -> None:
    for text in ("Égal", "xen", "(27)", "Quỳnh"):
        _, top, _, bottom = freetype(face).getbbox(text, anchor="ls")
        below, above = lettering.ink_mm(text, face, 72)
        assert (below, above) == pytest.approx((-bottom * 25.4 / 1000, -top * 25.4 / 1000), abs=0.06)


def test_heights_of_letters() -> None:
    _, top, _, _ = freetype("bold").getbbox("H", anchor="ls")
    assert lettering.cap_height_mm("bold", 72) == pytest.approx(-top * 25.4 / 1000, abs=0.05)
    assert lettering.ascent_mm("bold", 10) > lettering.cap_height_mm("bold", 10)
    _, above = lettering.ink_mm("ÅÉgjpqy", "bold", 10)
    assert lettering.ascent_mm("bold", 10) == pytest.approx(above, abs=0.01)


def test_figures_are_all_of_one_width_and_condensed_is_narrower() -> None:
    for face in FACES:
        assert len({width_mm(figure, face, 10) for figure in "0123456789"}) == 1
    for wide, narrow in NARROWER.items():
        assert 0.75 < width_mm(TEXTS[0], narrow, 10) / width_mm(TEXTS[0], wide, 10) < 0.88


def test_a_composed_letter_and_its_parts_are_set_alike() -> None:
    assert lettering.shown(unicodedata.normalize("NFD", "Ångström")) == "Ångström"
    assert width_mm("e\u0301", "regular", 10) == width_mm("é", "regular", 10)


def test_what_is_never_seen_has_no_width_and_needs_no_glyph() -> None:
    hidden = "Lo\u00adng\u200d\ufe0f\u200b"
    assert lettering.missing(hidden) == ()
    assert width_mm(hidden, "regular", 10) == width_mm("Long", "regular", 10)


def test_missing_characters_are_found_each_once() -> None:
    assert lettering.missing("中a中\tЖ☃") == ("中", "\t", "☃")


def test_a_missing_character_is_named() -> None:
    lettering.require_glyphs("Longstalk — Жито", "the variety")
    with pytest.raises(SheetError) as caught:
        lettering.require_glyphs("Snow ☃\x07", "the variety")
    assert str(caught.value) == (
        "the variety 'Snow ☃\\x07': no font at hand has '☃' (U+2603, SNOWMAN), "
        "(U+0007, a control or unassigned character); leave it out"
    )
    with pytest.raises(
        SheetError, match=r'name a font that has it in the plan, \[plan\] fonts = \["fonts/MyFont.ttf"\]'
    ):
        lettering.require_glyphs("Snow ☃", "the variety")


def test_fits_forgives_the_rounding_of_sums_alone() -> None:
    assert fits(10, 10)
    assert fits(0.1 + 0.2, 0.3)
    assert not fits(10.00001, 10)


NAME = "Longstalk Winter-hardy of Millbrook"


def test_text_gives_way_in_order() -> None:
    full = width_mm(NAME, "bold", 12)
    narrow = width_mm(NAME, "condensed-bold", 12)
    assert fit(NAME, "bold", full, 12, 6, 2) == Fitted((NAME,), "bold", 12, cut=False)
    assert fit(NAME, "bold", full - 0.1, 12, 6, 2) == Fitted((NAME,), "condensed-bold", 12, cut=False)
    assert fit(NAME, "bold", narrow - 0.1, 12, 6, 2) == Fitted((NAME,), "condensed-bold", 11.75, cut=False)
    assert fit(NAME, "bold", narrow / 2, 12, 6, 2) == Fitted((NAME,), "condensed-bold", 6, cut=False)
    wrapped = fit(NAME, "bold", narrow / 2 - 0.1, 12, 6, 2)
    assert wrapped.lines == ("Longstalk Winter-", "hardy of Millbrook")
    assert (wrapped.size_pt, wrapped.cut) == (11.5, False)
    cut = fit(NAME, "bold", 12, 12, 6, 2)
    assert cut == Fitted(("Longstalk", "Winter-har…"), "condensed-bold", 6, cut=True)


def test_wrapping_takes_the_wider_face_where_both_go_in() -> None:
    wide = max(width_mm(line, "bold", 12) for line in ("Longstalk Winter-", "hardy of Millbrook"))
    assert fit(NAME, "bold", wide, 12, 11, 2).face == "bold"


def test_a_size_between_steps_ends_at_the_least() -> None:
    room = width_mm(NAME, "condensed", 6.9)
    assert fit(NAME, "regular", room, 9, 6.9).size_pt == 6.9
    assert fit(NAME, "code", room / 2, 9, 6.9) == Fitted(("Longstalk Wi…",), "code", 6.9, cut=True)


def test_height_holds_down_size_and_lines() -> None:
    low = 9.5 * MM_PER_POINT
    assert fit("Short", "regular", 50, 12, 6, 3, height_mm=low) == Fitted(("Short",), "regular", 9.5, cut=False)
    one_line = fit(NAME, "bold", 20, 12, 6, 3, height_mm=6.1 * MM_PER_POINT)
    assert (len(one_line.lines), one_line.cut) == (1, True)
    two_lines = fit(NAME, "bold", 30, 12, 6, 3, height_mm=lettering.block_height_mm(2, 9))
    assert (len(two_lines.lines), two_lines.size_pt) == (2, 9)


def test_a_word_too_long_for_a_line_is_broken() -> None:
    word = "Donaudampfschifffahrt"
    broken = fit(word, "condensed", width_mm(word, "condensed", 6) * 0.6, 9, 6, 2)
    assert "".join(broken.lines) == word
    assert not broken.cut


def test_marks_stay_on_their_letter() -> None:
    text = "q\u0323" * 30
    cut = fit(text, "regular", 15, 9, 6)
    assert cut.cut
    assert cut.lines[0].endswith("q\u0323…")


@given(NAMES, st.floats(1, 80), st.sampled_from([6.0, 7.5, 12.0]), st.integers(1, 3), st.none() | st.floats(2, 20))
def test_whatever_comes_out_fits(
    text: str, room_mm: float, size_pt: float, lines: int, height_mm: float | None
) -> None:
    made = fit(text, "regular", room_mm, size_pt, 6, lines, height_mm=height_mm)
    assert 1 <= len(made.lines) <= lines
    assert 6 <= made.size_pt <= size_pt
    for line in made.lines:
        alone = line in {"…", *text}
        assert fits(width_mm(line, made.face, made.size_pt), room_mm) or alone
    if not made.cut:
        assert "".join(made.lines).replace(" ", "") == text.replace(" ", "")
    else:
        assert made.lines[-1].endswith("…")
        assert made.size_pt == 6


@given(NAMES, st.floats(2, 60))
def test_more_room_is_never_worse(text: str, room_mm: float) -> None:
    tight, wide = fit(text, "bold", room_mm, 10, 6), fit(text, "bold", room_mm * 1.3, 10, 6)
    assert (wide.size_pt, not wide.cut) >= (tight.size_pt, not tight.cut)


@pytest.mark.parametrize("face", list(FACES))
def test_a_mark_without_a_letter_stands_on_a_dotted_circle(face: str) -> None:
    """The Unicode Standard, 2.11: U+25CC. Drawn on nothing, it would lie over what is left of the text."""
    assert shown("\u0301Alpha") == shown("\u200b\u0301Alpha") == "\u25cc\u0301Alpha"
    assert logical("\u0301大葱") == "\u25cc\u0301大葱"
    assert shown("e\u0301") == "é"
    assert width_mm("\u0301Alpha", face, 10) == pytest.approx(
        width_mm("\u25cc", face, 10) + width_mm("Alpha", face, 10)
    )
    assert missing("\u0301Alpha", face) == ()
