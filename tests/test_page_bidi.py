"""The order of letters against python-bidi, which is another writing of Unicode Standard Annex #9 (in Rust)."""

import re

from bidi import get_display
from hypothesis import example, given, settings
from hypothesis import strategies as st

from traysheets.base.directions import CLOSE, LEFT_TO_RIGHT, RIGHT_TO_LEFT, isolated, runs_left, side_by_side, turns
from traysheets.page.bidi import levels, lines_kept, mirrored, visual

LETTERS = "ab\u05d0\u05d1\u0627\u0628" + "12\u0663\u0664" + " ()[]-+.,%$'\u00b7\u2026" + "\u0301\u05b0\u200c"
TEXTS = st.text(st.sampled_from(LETTERS + LEFT_TO_RIGHT + RIGHT_TO_LEFT + CLOSE + CLOSE), min_size=1, max_size=24)
UNSEEN = LEFT_TO_RIGHT + RIGHT_TO_LEFT + CLOSE + "\u200c"


def theirs(text: str) -> list[int]:
    """The levels as python-bidi tells them, a byte of UTF-8 each; ours are a character each."""
    told = get_display(text, debug=True).rsplit("levels: [", 1)[1].split("paragraphs:")[0]
    by_byte = [int(level) for level in re.findall(r"Level\(\s*(\d+),", told)]
    return [by_byte[len(text[:place].encode())] for place in range(len(text))]


def laid(text: str) -> str:
    """A line from left to right."""
    return "".join(text[place] for place in visual(levels(text)))


@settings(max_examples=600)
@given(TEXTS)
@example("\u05d1\u05e6\u05dc A(b) \u206727-014-K\u2069")
def test_levels_are_those_of_the_standard(text: str) -> None:
    end = len(text.rstrip(UNSEEN + " "))
    ours, other = levels(text), theirs(text)
    assert [ours[i] for i in range(end) if text[i] not in UNSEEN] == [
        other[i] if turns(text) else 0 for i in range(end) if text[i] not in UNSEEN
    ]


@given(st.text(st.sampled_from("ab\u05d0\u05d1\u062712 -()"), max_size=16))
def test_the_order_is_that_of_the_standard(text: str) -> None:
    assert laid(text.strip()) == get_display(text.strip())


def test_brackets_opened_deeper_than_the_standard_looks_are_no_pairs() -> None:
    """BD16 stops at 63 that are open."""
    deep, deeper = ("\u05d0" + "(" * number + "a" + ")" * number + "\u05d1" for number in (63, 64))
    assert (levels(deep), levels(deeper)) == (theirs(deep), theirs(deeper))
    assert levels(deep)[1:64] + levels(deeper)[1:64] == [1] * 126


def test_brackets_are_turned_round() -> None:
    """Rule L4; python-bidi leaves it to others."""
    assert [mirrored(bracket) for bracket in "([{<«「）"] == list(")]}>»」（")
    assert mirrored("a") == "a"


def test_spaces_at_the_end_of_a_line_stay_at_its_end() -> None:
    """Rule L1."""
    assert levels("a \u05d0 ") == [0, 0, 1, 0]
    assert levels("\u05d0 a ") == [1, 1, 2, 1]


def test_a_text_runs_as_its_first_letter_does() -> None:
    assert runs_left("12 \u05d0b")
    assert not runs_left("(a \u05d0")
    assert not runs_left("27-014")
    assert not runs_left(f"{RIGHT_TO_LEFT}\u05d0{CLOSE} a")


def test_names_keep_to_themselves_among_others() -> None:
    """Without isolates the figures of a code beside an Arabic name would change places."""
    name, code = "\u0628\u0635\u0644", "27-014-K"
    assert isolated("Longstalk") == "Longstalk"
    assert laid(side_by_side((name, code), " ")).strip(UNSEEN).replace(CLOSE, "") == f"{name[::-1]} {code}"
    assert not laid(f"{name} {code}").endswith(code)
    assert side_by_side(("a", "", "b"), " · ") == "a · b"
    assert isolated("Kale \u05d0") == f"{LEFT_TO_RIGHT}Kale \u05d0{CLOSE}"


def test_a_line_stands_alone_as_it_did_in_the_text() -> None:
    text = "\u05d0\u05d1 one two \u05d2\u05d3 3"
    first, second = lines_kept(text, ("\u05d0\u05d1 one", "two \u05d2\u05d3 3"))
    assert first == "\u05d0\u05d1 one"
    assert second == f"{RIGHT_TO_LEFT}two \u05d2\u05d3 3{CLOSE}"
    assert laid(second).strip(UNSEEN) == "3 \u05d3\u05d2 two"
    assert lines_kept("one two", ("one", "two")) == ("one", "two")


def test_an_isolate_over_two_lines_is_closed_and_opened_again() -> None:
    text = f"a {RIGHT_TO_LEFT}\u05d0 \u05d1{CLOSE} b"
    assert lines_kept(text, (f"a {RIGHT_TO_LEFT}\u05d0", f"\u05d1{CLOSE} b")) == (
        f"a {RIGHT_TO_LEFT}\u05d0{CLOSE}",
        f"{RIGHT_TO_LEFT}\u05d1{CLOSE} b",
    )
