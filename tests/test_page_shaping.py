"""Names in other scripts against HarfBuzz used alone, fontTools' own instances of variable fonts, and python-bidi."""

import sys
import threading
from itertools import pairwise
from pathlib import Path

import pytest
from fontTools.ttLib import TTCollection, TTFont
from hypothesis import given
from hypothesis import strategies as st
from scripts import ARABIC, CJK, DEVANAGARI, FROM_RIGHT, HEBREW, NAMES, THAI, box, fonts, harfbuzz, instanced, points

from traysheets.base.errors import SheetError
from traysheets.page import fonts as at_hand
from traysheets.page import lettering
from traysheets.page.faces import FACES, NARROWER, STYLES
from traysheets.page.fonts import font_files, remembered, with_fonts
from traysheets.page.lettering import fit, fits, missing, require_glyphs, width_mm
from traysheets.page.shaping import Shaped, shaped
from traysheets.page.wrapping import graphemes

EM_MM = 25.4
"""What an em is at 72 pt."""
LETTERS = "".join(dict.fromkeys("".join(NAMES))) + "ab -("


def setting(text: str, face: str = "regular", *paths: str) -> Shaped:
    return shaped(text, face, fonts(*paths))


def placed(line: Shaped) -> list[tuple[int, float, float]]:
    """Number and place of every glyph of a line."""
    found, x = [], 0.0
    for stretch in line.stretches:
        for sign in stretch.signs:
            found += [(number, x + right, up) for number, right, up in sign.glyphs]
            x += sign.advance
    return found


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("name", NAMES)
def test_glyphs_and_places_are_those_of_harfbuzz_in_that_weight_and_width(name: str, face: str) -> None:
    font = instanced(NAMES[name], *STYLES[face])
    other, ours = harfbuzz(name, font), setting(name, face)
    assert [number for number, _, _ in placed(ours)] == [number for number, *_ in other]
    for one, (_, x, y, _) in zip(placed(ours), other, strict=True):
        assert one[1:] == pytest.approx((x, y), abs=0.002)
    assert ours.width == pytest.approx(sum(advance for *_, advance in other), abs=0.002)


@pytest.mark.parametrize("name", NAMES)
def test_ink_reaches_as_far_as_the_outlines_do(name: str) -> None:
    font = instanced(NAMES[name], 700)
    _, bottom, _, top = box(points(font, [(number, x, y) for number, x, y, _ in harfbuzz(name, font)]))
    line = setting(name, "bold")
    assert (line.below, line.above) == (pytest.approx(min(bottom, 0), abs=0.03), pytest.approx(top, abs=0.03))
    with with_fonts(fonts()):
        below_mm, above_mm = lettering.ink_mm(name, "bold", 72)
    assert (below_mm / EM_MM, above_mm / EM_MM) == pytest.approx((line.below, line.above))


@pytest.mark.parametrize("name", NAMES)
def test_the_signs_tell_the_whole_text(name: str) -> None:
    texts = [sign.text for stretch in setting(name).stretches for sign in stretch.signs]
    assert "".join(reversed(texts) if NAMES[name] in FROM_RIGHT else texts) == name


def test_a_text_of_several_scripts_goes_to_several_fonts() -> None:
    line = setting("Kale 九条 ต้น-12 سلام (b)")
    told = [
        (Path(stretch.typeface.file.path).name, "".join(sign.text for sign in stretch.signs))
        for stretch in line.stretches
    ]
    regular = FACES["regular"]
    assert told == [
        (regular, "Kale "),
        ("Cjk.otf", "九条 "),
        ("Thai.ttf", "ต้น"),
        (regular, "-12 "),
        ("Arabic.ttf", "مالس"),
        ("Arabic.ttf", " "),
        (regular, "("),
        (regular, "b)"),
    ]


def test_a_cluster_is_never_parted_between_fonts() -> None:
    """The mark is in the built-in face alone, its letter in another font alone: neither can set both."""
    assert "\u0303" in "".join(map(chr, at_hand.characters(at_hand.typefaces("regular", ())[0].file)))
    assert missing_with("九\u0303条", CJK) == ("\u0303",)
    assert missing_with("q\u0303 九", CJK) == ()


def missing_with(text: str, *paths: str) -> tuple[str, ...]:
    with with_fonts(fonts(*paths)):
        return missing(text)


def test_a_composed_letter_may_be_set_from_its_parts() -> None:
    """A font that has a letter and a mark, but not both in one, has all it takes: HarfBuzz puts them together."""
    composed = "\u0931"
    assert ord(composed) not in at_hand.characters(fonts(DEVANAGARI)[0])
    assert missing_with(composed, DEVANAGARI) == ("\u0931",)
    assert missing_with("\u0622", ARABIC) == ()


def test_what_no_font_has_is_missing() -> None:
    assert missing_with("九条 ☃", CJK, ARABIC) == ("☃",)
    assert missing_with("سلام", CJK) == ("س", "ل", "ا", "م")
    assert missing("九") == ("九",)
    assert missing_with("می\u200cخوا\u202e 九\ufe00", ARABIC, CJK) == ()


def test_without_a_font_the_error_says_what_helps() -> None:
    with pytest.raises(SheetError) as caught:
        require_glyphs("葱☃", "the variety")
    assert str(caught.value) == (
        "the variety '葱☃': no font at hand has '葱' (U+8471, CJK UNIFIED IDEOGRAPH-8471), '☃' (U+2603, SNOWMAN); "
        'name a font that has it in the plan, [plan] fonts = ["fonts/MyFont.ttf"], or write it in other characters'
    )


def test_without_harfbuzz_the_error_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "uharfbuzz", None)
    assert fonts(CJK) == ()
    with with_fonts(fonts(CJK)), pytest.raises(SheetError) as caught:
        require_glyphs("大葱 Winter", "the variety")
    assert (
        "install what such letters need (in your copy of traysheets: pip install '.[scripts]') and name a font"
        in str(caught.value)
    )


def test_jobs_with_other_fonts_do_not_mix() -> None:
    """Each set of fonts has its own widths, missing characters and fitted texts, in whatever order they are asked."""
    text = "九条 سلام"
    found = []
    for paths in ((ARABIC,), (CJK,), (ARABIC, CJK), (ARABIC,)):
        with with_fonts(fonts(*paths)):
            found.append((missing(text), width_mm(text, "bold", 10), fit(text, "bold", 12, 10, 6)))
            with with_fonts(()):
                assert missing(text) == tuple("九条سلام")
    assert found[0] == found[3]
    assert len({width for _, width, _ in found}) == 3
    assert found[2][0] == ()


def test_another_thread_has_fonts_of_its_own() -> None:
    seen: list[tuple[str, ...]] = []
    with with_fonts(fonts(CJK)):
        thread = threading.Thread(target=lambda: seen.append(missing("九")))
        thread.start()
        thread.join()
    assert seen == [("九",)]


def test_what_is_remembered_is_kept_apart_by_fonts() -> None:
    asked = []

    @remembered(maxsize=4)
    def ask(text: str) -> int:
        asked.append(text)
        return len(asked)

    assert (ask("a"), ask("a")) == (1, 1)
    with with_fonts(fonts(CJK)):
        assert (ask("a"), ask("a")) == (2, 2)
    assert ask("a") == 1


# ---- fonts


def test_a_bold_file_is_taken_for_bold_faces(tmp_path: Path) -> None:
    plain, bold = tmp_path / "plain.ttf", tmp_path / "bold.ttf"
    for path, weight in ((plain, 400), (bold, 700)):
        font = instanced(HEBREW, weight)
        font["OS/2"].usWeightClass = weight
        font.save(path)
    for named in ((plain, bold), (bold, plain)):
        for face, wanted in (("regular", plain), ("bold", bold), ("condensed-bold", bold), ("code", plain)):
            line = setting("בצל", face, *map(str, named))
            assert line.stretches[0].typeface.file.path == str(wanted)


def test_of_a_collection_the_numbered_font_is_taken(tmp_path: Path) -> None:
    collection, path = TTCollection(), tmp_path / "both.ttc"
    collection.fonts = [TTFont(CJK), TTFont(THAI)]
    collection.save(path)
    assert missing_with("九", str(path)) == ()
    assert missing_with("น", str(path)) == ("น",)
    assert missing_with("น", f"{path}#1") == ()
    with pytest.raises(SheetError, match="is no TrueType or OpenType font with outlines of characters in it"):
        font_files([f"{path}#2"])


def test_a_file_that_is_changed_is_read_anew(tmp_path: Path) -> None:
    path = tmp_path / "font.ttf"
    path.write_bytes(Path(THAI).read_bytes())
    assert missing_with("น", str(path)) == ()
    path.write_bytes(Path(HEBREW).read_bytes())
    assert missing_with("น", str(path)) == ("น",)


def test_files_that_cannot_be_used_are_all_named(tmp_path: Path) -> None:
    text, closed, coloured = tmp_path / "text.ttf", tmp_path / "closed.ttf", tmp_path / "coloured.ttf"
    text.write_text("not a font")
    font = TTFont(HEBREW)
    font["OS/2"].fsType = 2
    font.save(closed)
    for table in ("glyf", "gvar", "loca"):
        del font[table]
    font.save(coloured)
    with pytest.raises(SheetError) as caught:
        font_files([str(text), HEBREW, str(closed), str(coloured), str(tmp_path / "gone.ttf"), str(tmp_path)])
    assert [str(problem) for problem in caught.value.problems] == [
        f"the file {text} is no TrueType or OpenType font with outlines of characters in it",
        f"the maker of the font {closed} does not allow it to be put into files; name another one",
        f"the file {coloured} is no TrueType or OpenType font with outlines of characters in it",
        f"the font file {tmp_path / 'gone.ttf'} cannot be read: No such file or directory",
        f"the font file {tmp_path} cannot be read: Is a directory",
    ]


# ---- making it fit


@given(st.text(st.sampled_from(LETTERS), min_size=1, max_size=40), st.floats(4, 60), st.integers(1, 3))
def test_whatever_comes_out_fits(text: str, room_mm: float, lines: int) -> None:
    with with_fonts(fonts()):
        made = fit(text, "bold", room_mm, 12, 6, lines)
        assert 1 <= len(made.lines) <= lines
        for line in made.lines:
            alone = len(list(graphemes(line.strip("\u2066\u2067\u2069")))) <= 2
            assert fits(width_mm(line, made.face, made.size_pt), room_mm) or alone or "…" in line
        if not made.cut:
            kept = "".join(made.lines).translate(dict.fromkeys(map(ord, "\u2066\u2067\u2069 ")))
            assert kept == text.replace(" ", "")


@pytest.mark.parametrize("name", NAMES)
def test_an_ellipsis_stands_where_the_text_goes_on(name: str) -> None:
    with with_fonts(fonts()):
        room = width_mm(name, NARROWER["bold"], 6) * 0.75
        cut = fit(name, "bold", room, 12, 6)
        line = lettering.shaped(cut.lines[0], cut.face)
    assert cut.cut
    told = [sign.text for stretch in line.stretches for sign in stretch.signs]
    assert told[0 if NAMES[name] in FROM_RIGHT else -1] == "…"
    kept = cut.lines[0].strip("\u2067\u2069").removesuffix("…")
    assert name.startswith(kept)
    assert list(graphemes(name))[: len(list(graphemes(kept)))] == list(graphemes(kept))


def test_a_long_arabic_name_is_broken_between_words_and_lines_stay_whole() -> None:
    name = "بصل أخضر طويل سلام كبير من وادي"
    with with_fonts(fonts(ARABIC)):
        wrapped = fit(name, "bold", width_mm(name, "condensed-bold", 8) / 2 + 1, 12, 8, 2)
    assert len(wrapped.lines) == 2
    assert " ".join(wrapped.lines) == name


def test_an_arabic_word_too_long_for_a_line_is_broken_between_letters() -> None:
    name = "سلام" * 6
    with with_fonts(fonts(ARABIC)):
        room = width_mm(name, "condensed-bold", 6) / 2 + 1
        broken = fit(name, "bold", room, 12, 6, 3)
        assert all(fits(width_mm(line, broken.face, broken.size_pt), room) for line in broken.lines)
    assert "".join(broken.lines) == name
    assert not any(line.startswith("ا") and before.endswith("ل") for before, line in pairwise(broken.lines))


def test_a_mixed_name_keeps_its_direction_on_every_line() -> None:
    name = "Winter kale سلام بصل"
    with with_fonts(fonts(ARABIC)):
        wrapped = fit(name, "bold", width_mm(name, "condensed-bold", 12) * 0.62, 12, 12, 2)
    assert wrapped.lines == ("Winter kale", "\u2066سلام بصل\u2069")


def test_plain_text_is_not_shaped() -> None:
    """Widths of the built-in faces stay sums of advances whatever fonts are at hand."""
    for text in ("AVATAR", "Hành lá Quỳnh", "Жито Ωμέγα"):
        with with_fonts(fonts()):
            assert lettering.is_plain(text, "bold")
            inside = width_mm(text, "bold", 10)
        assert inside == width_mm(text, "bold", 10)
