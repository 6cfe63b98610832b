"""Where lines break, with every character one wide."""

from hypothesis import given
from hypothesis import strategies as st

from traysheets.page.wrapping import balanced, filled, graphemes, pieces

TEXTS = st.text(st.sampled_from("abé -–/\u00a0"), max_size=40)


def test_pieces_end_after_spaces_hyphens_and_strokes() -> None:
    assert pieces("Red-stalked  kale 1/2") == ["Red-", "stalked  ", "kale ", "1/", "2"]
    assert pieces("no\u00a0break no\u2011break") == ["no\u00a0break ", "no\u2011break"]
    assert pieces(" - a") == [" ", "- ", "a"]


def test_lines_are_balanced() -> None:
    assert balanced("aaaa bb cc dddd", 2, len) == ("aaaa bb", "cc dddd")
    assert balanced("aaaa bb cc dddd", 3, len) == ("aaaa", "bb cc", "dddd")
    assert balanced("one", 3, len) == ("one",)
    assert balanced("", 2, len) == ("",)


def test_a_line_is_filled_and_a_long_word_broken() -> None:
    assert filled("aa bbbbbbb c", 4, len) == ("aa b", "bbbb", "bb c")
    assert filled("aa bb", 5, len) == ("aa bb",)


def test_graphemes_keep_marks_and_joined_pairs_together() -> None:
    assert list(graphemes("ae\u0301\u0323b")) == ["a", "e\u0301\u0323", "b"]
    assert list(graphemes("\u0915\u200d\u0937x")) == ["\u0915\u200d\u0937", "x"]
    assert list(graphemes("")) == []


@given(TEXTS, st.integers(1, 12))
def test_nothing_is_lost_in_filling(text: str, width: int) -> None:
    lines = filled(text, width, len)
    assert "".join(lines) == text
    assert all(len(line.rstrip(" ")) <= width for line in lines)


@given(TEXTS, st.integers(1, 4))
def test_balanced_lines_are_as_few_as_asked_and_as_narrow_as_any(text: str, most: int) -> None:
    lines = balanced(text, most, len)
    assert len(lines) <= most
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert max(map(len, lines)) <= len(text)
    assert max(map(len, lines)) == narrowest(pieces(text), most)


def narrowest(parts: list[str], most: int) -> int:
    """The least width of the widest line, by trying every way to break."""
    if most == 1 or len(parts) <= 1:
        return len("".join(parts).rstrip(" "))
    ways = (
        max(len("".join(parts[:i]).rstrip(" ")), narrowest(parts[i:], most - 1))
        for i in range(1, min(len(parts), 12) + 1)
    )
    return min(ways)
