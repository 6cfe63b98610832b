"""The language files: each says what English says and no more, with the same values in it, in letters that we have."""

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

import pytest
from babel import Locale

import traysheets.base
from traysheets.base.words import languages
from traysheets.page.faces import FACES
from traysheets.page.lettering import missing

PACKAGE = Path(traysheets.base.__file__).resolve().parent.parent
FOLDER = PACKAGE / "base" / "languages"
FILES = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(FOLDER.glob("*.toml"))}
ENGLISH = FILES["en"]
OTHERS = [code for code in FILES if code != "en"]
SPARE = {"many"}
"""Plural forms that a file may leave out: they are for round millions, where the usual form is right in print."""

SAME = {
    "de": {"bench.plan"},
    "es": {"source.plan", "bench.plan"},
    "fr": {
        "source.plan",
        "bench.plan",
        "bench.plants",
        "sticks.lot",
        "seeds.lot",
        "records.notes",
        "records.germination",
        "records.litres",
        "measures.litres",
        "check.litres",
        "seeds.buy_lot",
        "check.germination",
        "check.minutes",
        "aftercare.note",
        "aftercare.plants",
        "templates.figure_1",
        "logs.date",
        "guide.pots",
        "templates.figure_3",
    },
}
"""Entries with words in them that are the same in English."""


def entries(language: str) -> dict[str, dict[str, str]]:
    """The forms of every entry, by `section.key`."""
    return {
        f"{section}.{key}": entry if isinstance(entry, dict) else {"other": entry}
        for section, found in FILES[language].items()
        for key, entry in found.items()
    }


def places(form: str) -> set[str]:
    """The names of the values that stand in a form."""
    return {name for _, name, _, _ in Formatter().parse(form) if name is not None}


def words_in(form: str) -> str:
    """A form without its places, units and signs: what is left is for a translator."""
    return re.sub(r"\{\w+\}|\b(mm|oz|min|m²|pt|in|\w)\b|\W|\d", "", form)


# ---- what a file must hold


@pytest.mark.parametrize("language", OTHERS)
def test_no_word_is_missing_and_none_is_superfluous(language: str) -> None:
    english, other = list(entries("en")), list(entries(language))
    assert [key for key in english if key not in other] == []
    assert [key for key in other if key not in english] == []
    assert other == english, "the entries stand in the order of the English ones"


def wrong_forms(language: str) -> Iterator[str]:
    """Plural forms that are missing or that the language does not have."""
    wanted = set(Locale.parse(language).plural_form.tags) | {"other"}
    for key, forms in entries(language).items():
        is_table = isinstance(FILES[language][key.split(".")[0]][key.split(".")[1]], dict)
        if is_table and (not set(forms) <= wanted or not wanted - SPARE <= set(forms)):
            yield f"{key}: {sorted(forms)}, not {sorted(wanted)}"
        if not is_table and len(entries("en")[key]) > 1:
            yield f"{key}: has no plural forms"


@pytest.mark.parametrize("language", FILES)
def test_every_plural_form_of_the_language_is_there(language: str) -> None:
    """The forms are the categories of the CLDR, as babel has them."""
    assert list(wrong_forms(language)) == []


def wrong_places(language: str) -> Iterator[str]:
    """Forms in which other values stand than in English. A form for one thing may leave its number unsaid."""
    for key, forms in entries(language).items():
        wanted = set().union(*map(places, entries("en")[key].values()))
        for name, form in forms.items():
            counted = {"n"} if name == "one" or len(forms) > 1 else set()
            if places(form) - wanted or wanted - places(form) - (counted if name == "one" else set()):
                yield f"{key}, {name}: {sorted(places(form))}, not {sorted(wanted)}"


@pytest.mark.parametrize("language", FILES)
def test_the_same_values_stand_in_every_language(language: str) -> None:
    assert list(wrong_places(language)) == []


@pytest.mark.parametrize("language", FILES)
def test_no_form_is_empty_or_untidy(language: str) -> None:
    found = [(key, form) for key, forms in entries(language).items() for form in forms.values()]
    assert [key for key, form in found if not form or form != form.strip()] == []


@pytest.mark.parametrize("language", OTHERS)
def test_nothing_is_left_in_english(language: str) -> None:
    own, english = entries(language), entries("en")
    same = {key for key in own if words_in("".join(own[key].values())) and own[key] == english[key]}
    assert {key for key in same if not key.startswith("day.") and "month" not in key} == SAME.get(language, set())


@pytest.mark.parametrize("language", FILES)
def test_the_fonts_have_every_letter(language: str) -> None:
    text = "".join(form for forms in entries(language).values() for form in forms.values())
    assert {face: missing(text, face) for face in FACES} == dict.fromkeys(FACES, ())


@pytest.mark.parametrize("language", FILES)
def test_quotation_marks_are_those_of_the_language(language: str) -> None:
    """CLDR, "Delimiters" (from memory): the marks of a first quotation."""
    marks = {"de": "„“", "en": "“”", "es": "«»", "fr": "«»", "pt": "“”"}[language]
    text = "".join(form for forms in entries(language).values() for form in forms.values())
    assert set(re.findall('["„“”«»]', text)) <= set(marks)


def test_french_keeps_its_spaces_before_high_marks_unbroken() -> None:
    text = "\n".join(form for forms in entries("fr").values() for form in forms.values())
    assert re.findall(r".* [:;?!%»].*|.*« .*", text) == []
    assert re.findall(r".*\w[:;?!»].*", text) == []
    assert "'" not in text, "the apostrophe is ’"


def test_the_files_are_the_languages() -> None:
    assert languages() == tuple(sorted(FILES))


# ---- which words the sheets ask for


def asked() -> tuple[set[str], list[re.Pattern[str]]]:
    """Keys that stand in the code whole, and patterns of those that are put together there."""
    whole: set[str] = set()
    parts: list[re.Pattern[str]] = []
    for path in PACKAGE.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        joined = [node for node in ast.walk(tree) if isinstance(node, ast.JoinedStr)]
        inside = {id(part) for node in joined for part in node.values}
        for node in joined:
            text = "".join(re.escape(str(p.value)) if isinstance(p, ast.Constant) else r"\w+" for p in node.values)
            parts.append(re.compile(text))
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in inside:
                whole.add(node.value)
    for path in PACKAGE.rglob("*.html"):
        whole.update(re.findall(r'"([a-z]+\.[a-z_0-9]+)"', path.read_text(encoding="utf-8")))
    return whole, parts


def test_every_word_is_asked_for_by_some_sheet() -> None:
    whole, parts = asked()
    parts = [part for part in parts if any(part.pattern.startswith(f"{section}\\.") for section in ENGLISH)]
    unused = [key for key in entries("en") if key not in whole and not any(part.fullmatch(key) for part in parts)]
    assert unused == []


def test_every_word_that_a_sheet_asks_for_is_there() -> None:
    key = re.compile(rf"({'|'.join(ENGLISH)})\.[a-z_0-9]+")
    files = re.compile(r".+\.(toml|pdf|csv|json|html|css|py|ics|sqlite)")
    whole, _ = asked()
    wanted = {text for text in whole if key.fullmatch(text) and not files.fullmatch(text)}
    assert wanted - set(entries("en")) == set()


# ---- the checks above see what they look for


def test_the_checks_see_what_is_wrong(monkeypatch: pytest.MonkeyPatch) -> None:
    wrong = {"sow": {"seeds": "{n} seeds", "holes": {"one": "{n}", "few": "{holes}", "other": "x"}}}
    monkeypatch.setitem(FILES, "de", wrong)
    assert list(wrong_forms("de")) == [
        "sow.seeds: has no plural forms",
        "sow.holes: ['few', 'one', 'other'], not ['one', 'other']",
    ]
    assert list(wrong_places("de")) == ["sow.holes, few: ['holes'], not ['n']", "sow.holes, other: [], not ['n']"]
