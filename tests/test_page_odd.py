"""Marks and texts of files that sheets seldom or never have, and the code that meets them all the same."""

import pytest

from traysheets.export.operators import Stream
from traysheets.page import qr_reading
from traysheets.page.lettering import ink_mm, width_mm
from traysheets.page.marks import BLACK, Path
from traysheets.page.note import read_note
from traysheets.page.qr_reading import UnreadableError
from traysheets.page.reach import box


def test_a_path_without_pieces_reaches_nowhere() -> None:
    assert box(Path((), fill=BLACK)) == (0.0, 0.0, 0.0, 0.0)


def test_a_stroked_path_on_a_grid_keeps_its_numbers_whole_and_its_stroke_true() -> None:
    """A square of a grid is 25.4 mm, 72 points (ISO 32000-1, 8.3.2.3): a stroke of 2.54 mm is a tenth of it."""
    d = (("M", 0, 0), ("L", 3, 2), ("C", 1, 1, 2, 2, 3, 3), ("Z",))
    stream = Stream(lambda text, face: [], lambda stamp: pytest.fail("no stamp is placed"))
    stream.draw([Path(d, stroke=BLACK, stroke_mm=2.54, dash_mm=(25.4, 12.7), unit_mm=25.4)])
    code = stream.code.decode("ascii")
    assert "72 0 0 72 0 0 cm" in code
    assert "[1 .5] 0 d" in code or "[1 0.5] 0 d" in code
    assert ".1 w" in code
    assert "0 0 m 3 -2 l 1 -1 2 -2 3 -3 c h S" in code


@pytest.mark.parametrize("pages", ["1 of 2.1.0x297", "1 of 210x297 with 1 of ...", "1 of 210x297 as .x1"])
def test_a_note_of_numbers_that_are_none_is_no_note(pages: str) -> None:
    assert read_note(f"traysheets 0.1.0; from 1; {pages}") is None
    assert read_note("traysheets 0.1.0; from 1; 1 of 210x297") is not None


def test_data_of_a_mode_that_is_none_or_of_bytes_that_are_no_text_cannot_be_read() -> None:
    for data in (bytes([0b1111_0000]), bytes([0b0100_0000, 0b0001_1111, 0b1111_0000])):
        with pytest.raises(UnreadableError, match="what it says is no text"):
            qr_reading._text(data, 1)


def test_a_text_that_no_font_at_hand_has_takes_up_what_its_face_has_of_it() -> None:
    known = "Allium "
    assert width_mm(known + "\u0e2b", "regular", 10) == pytest.approx(width_mm(known, "regular", 10))
    assert ink_mm(known + "\u0e2b", "regular", 10) == pytest.approx(ink_mm(known, "regular", 10), abs=0.5)
