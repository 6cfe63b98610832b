"""What is odd in a plan but possible, as it is said in the plan's own units."""

import pytest
from test_plan_toml import plan_of


@pytest.mark.parametrize(
    ("units", "cover", "said"),
    [
        ("metric", "8 in", "a cover of 203.2 mm does not go into a cell of pot-18, which is 89 mm deep"),
        ("inch", "200 mm", "a cover of 7 7/8 in does not go into a cell of pot-18, which is 3 1/2 in deep"),
    ],
)
def test_a_cover_deeper_than_the_cell_is_told(units: str, cover: str, said: str) -> None:
    plan = plan_of(f'[[sowing]]\ncells = 1\nsow = 2027-03-06\ncover = "{cover}"', more=f'[plan]\nunits = "{units}"')
    remedy = "check the cover and its unit, or take a deeper tray"
    assert [(notice.text, notice.line) for notice in plan.notices] == [(f"{said}; {remedy}", 8)]


def test_a_cover_that_the_cell_holds_is_not_told() -> None:
    assert plan_of('[[sowing]]\ncells = 1\nsow = 2027-03-06\ncover = "88 mm"').notices == ()
