"""Where lines break, with every character one wide."""

from hypothesis import given
from hypothesis import strategies as st

from traysheets.page.wrapping import balanced, filled, filled_whole, graphemes, pieces

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


def test_graphemes_of_other_scripts_are_what_readers_take_for_one_character() -> None:
    """Unicode Standard Annex #29, extended grapheme clusters, with GB9c; and the ligature of lam and alef."""
    assert list(graphemes("क्षेत्री")) == ["क्षे", "त्री"]
    assert list(graphemes("น้ำผึ้ง")) == ["น้ำ", "ผึ้", "ง"]
    assert list(graphemes("\u1112\u1161\u11ab\uae00")) == ["\u1112\u1161\u11ab", "\uae00"]
    assert list(graphemes("می\u200cخ")) == ["م", "ی\u200c", "خ"]
    assert list(graphemes("سلام")) == ["س", "لا", "م"]


def test_chinese_and_japanese_break_between_characters() -> None:
    """Classes ID, OP, CL, NS and CJ of Unicode Standard Annex #14, from memory."""
    assert pieces("九条ねぎ") == ["九", "条", "ね", "ぎ"]
    assert pieces("「大葱」、早熟 Winter品種。") == ["「大", "葱」、", "早", "熟 ", "Winter", "品", "種。"]
    assert pieces("キャベツー") == ["キャ", "ベ", "ツー"]
    assert pieces("大-葱 (一)") == ["大-", "葱 ", "(一)"]
    assert balanced("上海红甜菜根特", 2, len) == ("上海红甜", "菜根特")


def test_thai_breaks_at_spaces_and_where_a_name_is_long_between_syllables() -> None:
    short, long = "ต้นหอมญี่ปุ่น น้ำผึ้ง", "ต้นมะเขือเทศราชินีสีแดงสด"
    assert pieces(short) == ["ต้นหอมญี่ปุ่น ", "น้ำผึ้ง"]
    assert pieces(long)[:6] == ["ต้", "น", "มะ", "เขื", "อ", "เท"]
    assert "".join(pieces(long)) == long


def test_filling_by_whole_lines_is_filling_where_widths_add_up() -> None:
    for text in ("aa bbbbbbb c", "aa bb", "a", "Red-stalked  kale 1/2"):
        assert filled_whole(text, 4, len) == filled(text, 4, len)


@given(st.text(st.sampled_from("九ねー「」、 สเะน้aل ا-"), max_size=40), st.integers(1, 9))
def test_nothing_is_lost_in_other_scripts(text: str, width: int) -> None:
    assert "".join(pieces(text)) == text
    assert "".join(graphemes(text)) == text
    assert "".join(filled_whole(text, width, len)) == text
