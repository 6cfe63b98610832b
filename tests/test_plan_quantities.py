"""Kinds of value that need more than their own sentence: fractions, shifts, gaps, addresses, words."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from traysheets.base.errors import Problem
from traysheets.plan.filling import Answers, fill
from traysheets.plan.form import Form
from traysheets.plan.own_forms import CropForm, TrayForm
from traysheets.plan.plan_form import PaceForm, PlanForm, PrinterForm
from traysheets.plan.sowing_form import RepeatForm, SowingForm
from traysheets.plan.tables import Table


def filled(form: type[Form], values: dict[str, Any]) -> tuple[Answers, list[Problem]]:
    problems: list[Problem] = []
    return fill(form, Table(values, "plan.toml", 1), problems, "[plan]"), problems


def value(key: str, given: object, form: type[Form] = SowingForm) -> Any:
    answers, problems = filled(form, {key: given})
    assert problems == []
    return answers.get(key)


def said(key: str, given: object, form: type[Form] = SowingForm) -> str:
    answers, (problem,) = filled(form, {key: given})
    assert answers.bad == {key}
    assert answers.given(key)
    return problem.text


@pytest.mark.parametrize(
    ("given", "part"),
    [
        (0.85, 0.85),
        (1, 1.0),
        ("85 %", 0.85),
        (" 85%", 0.85),
        ("87.5 %", 0.875),
        ("0.85", 0.85),
        ("100 %", 1.0),
        ("Seen", "seen"),
    ],
)
def test_germination(given: object, part: object) -> None:
    assert value("germination", given) == part


@pytest.mark.parametrize(
    ("given", "text"),
    [
        (85, '85 is more than the whole; did you mean "85 %"?'),
        ("85", '85 is more than the whole; did you mean "85 %"?'),
        (1.2, '1.2 is more than the whole; write a fraction up to 1, or a percentage: 0.85 or "85 %"'),
        (1.99, '1.99 is more than the whole; write a fraction up to 1, or a percentage: 0.85 or "85 %"'),
        (2, '2 is more than the whole; did you mean "2 %"?'),
        (0, '0 cannot be; germination is above 0 and at most 1, or "100 %"'),
        (-0.5, '-0.5 cannot be; germination is above 0 and at most 1, or "100 %"'),
        ("101 %", "'101 %' cannot be; germination is above 0 and at most 1, or \"100 %\""),
        (float("nan"), 'nan cannot be; germination is above 0 and at most 1, or "100 %"'),
        (float("inf"), 'inf cannot be; germination is above 0 and at most 1, or "100 %"'),
        ("good", "'good' is not a germination; write it as 0.85 or \"85 %\""),
        (True, 'true is not a germination; write it as 0.85 or "85 %"'),
        ([0.85], 'a list is not a germination; write it as 0.85 or "85 %"'),
    ],
)  # fmt: skip
def test_no_germination(given: object, text: str) -> None:
    assert said("germination", given) == f"germination: {text}"


@given(st.integers(1, 100))
def test_a_percentage_and_its_fraction_are_the_same(percent: int) -> None:
    assert value("germination", f"{percent} %") == value("germination", percent / 100) == percent / 100


@pytest.mark.parametrize(("given", "part"), [(0, 0.0), ("10 %", 0.1), ("250 %", 2.5), (0.5, 0.5)])
def test_spare(given: object, part: float) -> None:
    assert value("spare", given) == part


@pytest.mark.parametrize(
    ("given", "days"), [("2 weeks", 14), ("1 week", 7), ("10 days", 10), ("1 Day", 1), ("3weeks", 21)]
)
def test_gaps(given: str, days: int) -> None:
    assert value("every", given, RepeatForm) == days


@pytest.mark.parametrize("given", ["0 days", "2", "two weeks", "105 weeks", "-1 days", 14, "1 month", None])
def test_no_gaps(given: object) -> None:
    if given is not None:
        shown = f"'{given}'" if isinstance(given, str) else given
        text = f'every: {shown} is not a time between sowings; write it as "2 weeks" or "10 days"'
        assert said("every", given, RepeatForm) == text


@pytest.mark.parametrize(
    ("given", "mm"), [("1.5 mm", 1.5), ("-1.5 mm", -1.5), (-2, -2.0), (2.5, 2.5), (" - 1/8 in", -3.175), (0, 0.0)]
)
def test_shifts(given: object, mm: float) -> None:
    assert value("shift_right", given, PrinterForm) == mm


@pytest.mark.parametrize(
    "url",
    ["https://records.example.org/B/{batch}", "HTTP://10.0.0.5:8000/B/{batch}", "HTTPS://EXAMPLE.ORG/?b={batch}&x=1"],
)
def test_addresses(url: str) -> None:
    assert value("record_url", url, PlanForm) == url


ADDRESS_HELP = 'write it as "https://records.example.org/B/{batch}"'


@pytest.mark.parametrize(
    ("url", "text"),
    [
        ("https://example.org/B/", f"the address must hold {{batch}} once, where the batch code goes; {ADDRESS_HELP}"),
        (
            "https://e.org/{batch}/{batch}",
            f"the address must hold {{batch}} once, where the batch code goes; {ADDRESS_HELP}",
        ),
        ("https://e.org/{BATCH}", f"the address must hold {{batch}} once, where the batch code goes; {ADDRESS_HELP}"),
        ("https://e.org/{batch}{", f"the address must hold {{batch}} once, where the batch code goes; {ADDRESS_HELP}"),
        ("ftp://e.org/{batch}", f"'ftp://e.org/{{batch}}' is not an address of the web; {ADDRESS_HELP}"),
        ("https:///{batch}", f"'https:///{{batch}}' is not an address of the web; {ADDRESS_HELP}"),
        ("https://[/{batch}", f"'https://[/{{batch}}' is not an address of the web; {ADDRESS_HELP}"),
        ("javascript:alert({batch})", f"'javascript:alert({{batch}})' is not an address of the web; {ADDRESS_HELP}"),
        (
            "https://e.org/a b/{batch}",
            "an address holds no spaces and only plain letters; write others as % and their code",
        ),
        (
            "https://e.org/é/{batch}",
            "an address holds no spaces and only plain letters; write others as % and their code",
        ),
        ("https://e.org/\x1b{batch}", "there is a control character in this text (U+001B); take it out"),
    ],
)
def test_no_addresses(url: str, text: str) -> None:
    assert said("record_url", url, PlanForm) == f"record_url: {text}"


@pytest.mark.parametrize(("given", "sticks"), [("Run", "run"), ("cell", "cell"), (0, 0), (250, 250)])
def test_sticks(given: object, sticks: object) -> None:
    assert value("sticks", given) == sticks


@pytest.mark.parametrize("given", ["runs", -1, True, 1.5, [], 100_001])
def test_no_sticks(given: object) -> None:
    assert said("sticks", given).endswith(' cannot be; write "run", "cell" or a number from 0 to 100,000')


@pytest.mark.parametrize("letter", ["\x00", "\x1b", "\x7f", "\x85", "\u2028"])
def test_characters_that_steer_a_device_are_refused(letter: str) -> None:
    text = f"there is a control character in this text (U+{ord(letter):04X}); take it out"
    assert said("variety", f"a{letter}b") == f"variety: {text}"
    assert said("notes", f"a{letter}b") == f"notes: {text}"


@pytest.mark.parametrize("name", ["שלום", "प्याज", "Pe\u0301pin 🌱", "a\u00adb", "\u200eab", "<b>&amp;"])
def test_any_script_is_welcome(name: str) -> None:
    assert value("variety", name) == name.replace("e\u0301", "é")


def test_a_wrong_value_is_shown_harmless_and_short() -> None:
    assert said("method", "\x1b[31m") == "method: '\\u001b[31m' is not single, clump or stations"
    assert said("method", "x" * 99) == f"method: '{'x' * 40}...' is not single, clump or stations"


@given(st.dictionaries(st.sampled_from(sorted(SowingForm.model_fields)), st.recursive(
    st.none() | st.booleans() | st.integers() | st.just(-(10**400)) | st.floats() | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
)))  # fmt: skip
def test_whatever_is_given_gets_a_sentence_of_our_own(values: dict[str, Any]) -> None:
    values = {key: value for key, value in values.items() if value is not None}
    answers, problems = filled(SowingForm, values)
    assert not answers.bad & answers.values.keys()
    assert bool(problems) == bool(answers.bad)
    for problem in problems:
        assert "Input" not in problem.text
        assert "pydantic" not in problem.text
        assert "\n" not in problem.text


def test_a_number_of_hundreds_of_digits_gets_plain_words_too() -> None:
    digits = f"1{'0' * 39}..."
    assert said("helpers", 10**400, PaceForm) == f"helpers must be 1,000 or less, not {digits}"
    assert said("single", 10**400, PaceForm) == f"single must be an ordinary number, not {digits}"
    assert said("germination", 10**400).startswith(f"germination: {digits} cannot be;")


@pytest.mark.parametrize(
    ("form", "key", "given", "text"),
    [
        (TrayForm, "volume", "2000 l", "'2000 l' cannot be; it must be 0.01 ml to 1000 l"),
        (SowingForm, "soil_temp", ["18 C"], "a list is not a temperature; write it like 18 C or 65 F"),
        (SowingForm, "soil_temp", "65 C", "'65 C' is 65 C; soil to sow in has -5 to 50 C"),
        (CropForm, "soil_temp", ["25 C", "59 F"], "'25 C' is warmer than '59 F'; write the coolest first"),
        (SowingForm, "sow", "1827-03-06", "'1827-03-06': the year must be 1900 to 2999"),
        (
            SowingForm,
            "sow",
            "soon, w09",
            "'soon, w09' is not a day; write it as 2027-03-06 (year, month, day), or a week as 2027-W09",
        ),
        (SowingForm, "sow", "2027-w60", "2027-W60: 2027 has weeks W01 to W52"),
        (SowingForm, "sow", 2027, '2027 is not a day; write it as 2027-03-06, or a week as "2027-W09"'),
        (SowingForm, "sow", "2027\x1b", "there is a control character in this text (U+001B); take it out"),
        (SowingForm, "cover", "6" * 61, "this text has 61 characters; 60 are the most"),
        (PlanForm, "language", [], "0 languages are given; write one, or a list of 2 at most"),
        (PlanForm, "language", 1, "write one text, or a list of texts in brackets"),
        (PlanForm, "season", 20277, "20277 is not a season; write the year in full, as 2027"),
        (
            TrayForm,
            "cell",
            ["1 mm", True],
            "'True' is not a length; write a number of millimetres, or text with a unit",
        ),
    ],
)
def test_what_lies_out_of_bounds(form: type[Form], key: str, given: object, text: str) -> None:
    assert said(key, given, form).startswith(f"{key}: {text}")


# Unicode: characters of no width, direction marks, accents without a letter, spaces, the blanks of Braille and Korean.
UNSEEN = [
    "\u200b",
    "\u200d",
    "\ufeff",
    "\u2060",
    "\u00ad",
    "\u200e",
    "\u0301",
    "\u2800",
    "\u3164",
    " \u200b \u00a0\u0301",
]


@pytest.mark.parametrize("text", UNSEEN, ids=ascii)
@pytest.mark.parametrize("key", ["variety", "lot", "place", "notes"])
def test_a_text_of_which_nothing_is_seen_is_as_good_as_none(key: str, text: str) -> None:
    answers, problems = filled(SowingForm, {key: text})
    assert (answers.given(key), problems) == (False, [])


def test_characters_of_no_width_are_kept_inside_words_only() -> None:
    assert value("variety", "\u200b \ufeffLong\u00adstalk\u200d \u2060") == "Long\u00adstalk"
    assert value("variety", "می\u200cخواهم") == "می\u200cخواهم"
    assert value("variety", "🧑\u200d🌾❤\ufe0f") == "🧑\u200d🌾❤\ufe0f"
    assert value("variety", "\u2067שמש\u2069") == "\u2067שמש\u2069"
