"""Sheets parted over files: which page goes where, what the files are called, and what they say of themselves."""

import io
from itertools import pairwise

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from traysheets.export.pdf import write_pdf
from traysheets.export.volumes import is_of, volumes
from traysheets.page.marks import Document, Page, Text


def page(number: int, title: str = "") -> Page:
    return Page(100, 100, (Text(20, 20, f"page {number}"),), title)


def pages(letters: str) -> list[Page]:
    """A page a letter: a capital begins something, a small letter goes on with it."""
    return [page(number, letter if letter.isupper() else "") for number, letter in enumerate(letters, 1)]


def parted(letters: str, most: int) -> list[str]:
    found = volumes(pages(letters), most)
    return ["".join(letters[it.first_page - 1 :][: len(it.pages)]) for it in found]


@pytest.mark.parametrize(
    ("letters", "most", "files"),
    [
        ("ABC", 3, ["ABC"]),
        ("ABCD", 3, ["ABC", "D"]),
        ("ABbCc", 2, ["A", "Bb", "Cc"]),
        ("ABbCc", 4, ["ABb", "Cc"]),
        ("AaaaB", 2, ["Aa", "aa", "B"]),
        ("AaaaaBC", 3, ["Aaa", "aaB", "C"]),
        ("aaB", 1, ["a", "a", "B"]),
    ],
)
def test_what_belongs_together_stays_in_one_file(letters: str, most: int, files: list[str]) -> None:
    assert parted(letters, most) == files


@given(st.from_regex("[A-C][A-Ca-c]{0,30}", fullmatch=True), st.integers(1, 8))
def test_no_page_is_lost_and_no_file_is_too_long(letters: str, most: int) -> None:
    files = parted(letters, most)
    assert "".join(files) == letters
    assert all(1 <= len(file) <= most for file in files)
    for before, after in pairwise(files):
        begun = max(before.rfind(letter) for letter in "ABC")
        assert after[0].isupper() or begun <= 0


def test_names_sort_as_they_count_and_one_file_keeps_its_plain_name() -> None:
    names = [it.file("maps.pdf") for it in volumes(pages("A" * 1001), 1)]
    assert names[:2] == ["maps-001.pdf", "maps-002.pdf"]
    assert names[:999] == sorted(names[:999])
    assert names[-1] == "maps-1001.pdf"
    assert [it.file("maps.pdf") for it in volumes(pages("AB"), 2)] == ["maps.pdf"]


def test_pages_are_taken_only_as_they_are_needed() -> None:
    taken: list[int] = []
    endless = (taken.append(number) or page(number, "A") for number in range(10**9))  # type: ignore[func-returns-value]
    found = volumes(endless, 5)
    next(found), next(found)
    assert len(taken) == 11


def test_a_volume_is_told_from_other_files() -> None:
    ours = ["maps.pdf", "maps-001.pdf", "maps-1001.pdf"]
    others = ["maps-1.pdf", "maps-001.pdf.bak", "my-maps-001.pdf", "maps-001-old.pdf", "mapsXpdf", "records/maps.pdf"]
    assert [name for name in ours + others if is_of("maps.pdf", name)] == ours


def test_a_viewer_numbers_the_pages_as_they_are_printed() -> None:
    """Page labels (ISO 32000-1, 12.4.2), as two other libraries read them."""
    file = io.BytesIO()
    write_pdf(Document("Maps, part 2", iter(pages("AB")), first_page=41), file)
    assert PdfReader(file).page_labels == ["41", "42"]
    with pikepdf.open(file) as pdf:
        assert [it.label for it in pdf.pages] == ["41", "42"]


def test_a_whole_sheet_needs_no_labels() -> None:
    file = io.BytesIO()
    write_pdf(Document("Maps", iter(pages("AB"))), file)
    with pikepdf.open(file) as pdf:
        assert "/PageLabels" not in pdf.Root
