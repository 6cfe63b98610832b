"""The error family: how a problem is said, that all of them are kept, and the nearest right word."""

import pickle

import pytest

from traysheets.base.errors import BookError, FileError, PlanError, Problem, SheetError, TraysheetsError, nearest


@pytest.mark.parametrize(
    ("problem", "sentence"),
    [
        (Problem("no cells"), "no cells"),
        (Problem("no cells", "plan.toml"), "plan.toml: no cells"),
        (Problem("no cells", "plan.toml", 7), "plan.toml:7: no cells"),
        (Problem("no cells", "plan.csv", 7, "Cells"), "plan.csv:7: column Cells: no cells"),
        (Problem("no cells", column="Cells"), "column Cells: no cells"),
    ],
)
def test_a_problem_says_what_and_where(problem: Problem, sentence: str) -> None:
    assert str(problem) == sentence


def test_an_error_holds_every_problem_in_order() -> None:
    problems = (Problem("second row", "plan.toml", 9), Problem("first row", "plan.toml", 4))
    error = PlanError(iter(problems))
    assert error.problems == problems
    assert str(error) == "plan.toml:9: second row\nplan.toml:4: first row"
    assert TraysheetsError("a sentence").problems == (Problem("a sentence"),)


@pytest.mark.parametrize("kind", [TraysheetsError, PlanError, BookError, SheetError, FileError])
def test_an_error_comes_whole_out_of_another_process(kind: type[TraysheetsError]) -> None:
    error = pickle.loads(pickle.dumps(kind(Problem("no cells", "plan.toml", 7))))
    assert type(error) is kind
    assert error.problems == (Problem("no cells", "plan.toml", 7),)


@pytest.mark.parametrize(
    ("word", "known", "right"),
    [
        ("varity", ("variety", "crop"), "variety"),
        ("Cell72", ("cell-72", "cell-128"), "cell-72"),
        ("ONOIN", ("Onion", "Leek"), "Onion"),
        ("xyz", ("Onion", "Leek"), None),
        ("Onion", (), None),
    ],
)
def test_the_nearest_right_word(word: str, known: tuple[str, ...], right: str | None) -> None:
    assert nearest(word, known) == right
