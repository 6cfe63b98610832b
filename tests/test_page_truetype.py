"""What is read from the built-in fonts is what a general-purpose library reads from them."""

import pytest
from fontTools.ttLib import TTFont

from traysheets.base.bundle import bundled
from traysheets.page.faces import FACES, metrics
from traysheets.page.truetype import read_tables


@pytest.mark.parametrize("face", FACES)
def test_tables_are_those_that_fonttools_reads(face: str) -> None:
    path = bundled("fonts") / FACES[face]
    found = read_tables(path.read_bytes())
    with TTFont(path) as font:
        numbers = {name: number for number, name in enumerate(font.getGlyphOrder())}
        assert found.em == font["head"].unitsPerEm
        assert found.cap_height == font["OS/2"].sCapHeight
        assert found.glyphs == {code: numbers[name] for code, name in font.getBestCmap().items()}
        assert list(found.advances) == [font["hmtx"][name][0] for name in numbers]
        assert list(found.starts) == list(font["loca"])
        assert found.outlines == font.reader["glyf"]


def test_widths_are_parts_of_an_em() -> None:
    assert metrics("regular").widths["A"] == TTFont(bundled("fonts") / FACES["regular"])["hmtx"]["A"][0] / 1000
