"""Colours against the contrast formula of WCAG 2.1 (relative luminance, success criterion 1.4.6: 7 to 1 or more)."""

import pytest

from traysheets.page import palette


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour, as WCAG 2.1 defines it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_on_its_own_examples() -> None:
    """WCAG 2.1: black on white is 21 to 1; #767676 on white is the greyest text that passes 4.5 to 1 (from memory)."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("colour", palette.FILLS)
def test_black_letters_read_on_every_colour_and_tint(colour: str) -> None:
    assert contrast("#000000", colour) >= 7
    assert contrast("#000000", palette.tint(colour)) > contrast("#000000", colour)


def test_colours_come_round_again_and_give_way_to_white() -> None:
    assert palette.fill(0) == palette.fill(8) == palette.FILLS[0]
    assert len({palette.fill(i) for i in range(8)}) == 8
    assert palette.fill(3, grey=True) == "#FFFFFF"


def test_a_tint_is_two_fifths_of_its_colour_on_white() -> None:
    assert palette.tint("#000000") == "#999999"
    assert palette.tint("#FFFFFF") == "#FFFFFF"
    assert palette.tint("#109EEB") == "#9FD8F7"
