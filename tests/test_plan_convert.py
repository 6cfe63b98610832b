"""TOML to CSV and back: the same plan, whatever it holds."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from test_plan_toml import WHOLE

from traysheets.base.errors import PlanError
from traysheets.base.limits import MOST_LETTERS_IN_NAME
from traysheets.plan.convert import Converted, convert_plan
from traysheets.plan.read import plan_from_toml
from traysheets.plan.starter import starter_plan
from traysheets.plan.texts import clean
from traysheets.plan.toml_text import toml_text

SAMPLES = Path(__file__).resolve().parent.parent / "sample_plans"


def write(converted: Converted) -> list[Path]:
    paths = [Path(source.file) for source in converted.files]
    for path, source in zip(paths, converted.files, strict=True):
        path.write_text(source.text, encoding="utf-8", newline="")
    return paths


def there_and_back(text: str, folder: Path) -> str:
    """A TOML plan made CSV and TOML again; that no step loses anything is proved by `convert_plan` itself."""
    start = folder / "plan.toml"
    start.write_text(text, encoding="utf-8")
    plan, rest = write(convert_plan(start, folder / "plan.csv"))
    (back,) = write(convert_plan(plan, folder / "back.toml", rest))
    return back.read_text(encoding="utf-8")


@pytest.mark.parametrize("text", [starter_plan(), *(path.read_text() for path in sorted(SAMPLES.glob("*.toml")))])
def test_plans_as_they_are_written(text: str, tmp_path: Path) -> None:
    assert tomllib.loads(there_and_back(text, tmp_path)) == tomllib.loads(text)


def test_a_plan_with_every_table(tmp_path: Path) -> None:
    (tmp_path / "fonts").mkdir()
    (tmp_path / "fonts" / "greek.ttf").touch()
    back = plan_from_toml(there_and_back(WHOLE, tmp_path), "plans/spring.toml")
    whole = plan_from_toml(WHOLE, "plans/spring.toml")
    assert back.trays == whole.trays
    assert back.printer == whole.printer
    assert [sowing.variety for sowing in back.sowings] == [sowing.variety for sowing in whole.sowings]


def test_the_files_of_a_csv_plan(tmp_path: Path) -> None:
    start = tmp_path / "plan.toml"
    start.write_text(
        '# mine\n[defaults]\ntray = "pot-18"\n[[sowing]]\ncrop = "Onion"\nvariety = "=A"\ncells = 8\nsow = 2027-03-06\n'
        'repeat = { every = "2 weeks", times = 2 }\n[[sowing]]\ncrop = "Onion"\nvariety = "B"\nplants = 9\n'
        'plant_out = "2027-W20"\ngermination = 0.85\ntreated = true\nat = ["1: A1", "2: B1-B3"]\nnotes = "a\\nb"\n'
    )
    converted = convert_plan(start, tmp_path / "spring.csv")
    plan, rest = converted.files
    assert (plan.file, rest.file) == (str(tmp_path / "spring.csv"), str(tmp_path / "spring.settings.toml"))
    assert plan.text == (
        "crop,variety,cells,plants,sow,plant_out,germination,repeat_every,repeat_times,treated,at,notes\n"
        "Onion,'=A,8,,2027-03-06,,,2 weeks,2,,,\n"
        'Onion,B,,9,,2027-W20,0.85,,,true,1: A1; 2: B1-B3,"a\nb"\n'
    )
    assert rest.text == '[plan]\ntitle = "plan"\n\n[defaults]\ntray = "pot-18"\n'
    assert [notice.text for notice in converted.notices] == ["remarks after # are not carried over"]


ONE_SOWING = '[[sowing]]\ncrop = "Onion"\nvariety = "A"\ncells = 8\nsow = 2027-03-06\ntray = "pot-18"\n'


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("# all of the first week", True),
        ("lot = 'A-1'   # from Hazel", True),
        ('at = ["1: A1",  # by the door\n"1: A3"]', True),
        ('notes = """\n# no remark\n"""', False),
        ("notes = 'bed # 4'", False),
        ('lot = "\\"#4"', False),
    ],
)
def test_remarks_that_are_lost_are_told_wherever_they_stand(more: str, told: bool, tmp_path: Path) -> None:
    start = tmp_path / "plan.toml"
    start.write_text(ONE_SOWING + more, encoding="utf-8")
    told_of = [notice.text for notice in convert_plan(start, tmp_path / "plan.csv").notices]
    assert told_of == ["remarks after # are not carried over"] * told


def test_remarks_of_the_settings_are_lost_too(tmp_path: Path) -> None:
    sheet, rest = tmp_path / "plan.csv", tmp_path / "rest.toml"
    sheet.write_text("crop,variety,cells,sow\nOnion,#A,8,2027-03-06\n", encoding="utf-8")
    rest.write_text('[defaults]\ntray = "pot-18"  # all alike\n', encoding="utf-8")
    converted = convert_plan(sheet, tmp_path / "plan.toml", rest)
    assert [notice.text for notice in converted.notices] == ["remarks after # are not carried over"]


TEXTS = st.text(
    st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp")) | st.sampled_from("=+-@'#,;\"\\%"),
    min_size=1,
    max_size=9,
).filter(lambda text: clean(text, MOST_LETTERS_IN_NAME) != "")
SOWINGS = st.fixed_dictionaries(
    {"crop": st.sampled_from(["Onion", "leek"]), "variety": TEXTS, "tray": st.just("pot-18")},
    optional={
        "seeds_per_cell": st.integers(1, 20_000),
        "lot": TEXTS,
        "germination": st.floats(1e-9, 1) | st.sampled_from(["85 %", "0.5", "seen"]),
        "soil_temp": st.sampled_from(["18 C", "65.5 °F"]),
        "cover": st.floats(0, 500) | st.sampled_from(["1/4 in", "6 mm", '1"']),
        "on_hand": st.integers(0, 10_000_000),
        "treated": st.booleans(),
        "sticks": st.sampled_from(["run", "cell", 0, 7]),
        "own_trays": st.booleans(),
        "place": TEXTS,
        "notes": TEXTS | st.just("a\n\n'b"),
        "confidence": st.floats(1e-12, 0.9999),
        "spare": st.floats(0, 1) | st.just("10 %"),
    },
)
AMOUNTS = st.sampled_from(["cells", "trays", "plants", "seeds"])


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
@given(st.lists(st.tuples(SOWINGS, AMOUNTS), min_size=1, max_size=4))
def test_any_sowings_go_there_and_back_and_lose_nothing(
    tmp_path: Path, drawn: list[tuple[dict[str, Any], str]]
) -> None:
    sowings = [{"lot": "1", **sowing, amount: 3, "sow": "2027-03-06"} for sowing, amount in drawn]
    text = toml_text(("sowing", sowing) for sowing in sowings)
    there_and_back(text, tmp_path)


def test_the_same_form_is_no_conversion(tmp_path: Path) -> None:
    start = tmp_path / "a.toml"
    start.write_text(starter_plan())
    with pytest.raises(PlanError) as error:
        convert_plan(start, tmp_path / "b.toml")
    assert str(error.value) == f"{start} and {tmp_path}/b.toml are both TOML; name a file that ends in .csv or .toml"
    plan, rest = write(convert_plan(start, tmp_path / "a.csv"))
    with pytest.raises(PlanError) as error:
        convert_plan(plan, tmp_path / "b.csv", rest)
    assert str(error.value) == f"{plan} and {tmp_path}/b.csv are both CSV; name a file that ends in .csv or .toml"


def test_font_files_keep_a_plan_in_its_folder(tmp_path: Path) -> None:
    start = tmp_path / "a.toml"
    (tmp_path / "a.ttf").touch()
    start.write_text(starter_plan().replace("[plan]", '[plan]\nfonts = ["a.ttf"]'))
    with pytest.raises(PlanError) as error:
        convert_plan(start, tmp_path / "other" / "a.csv")
    assert str(error.value) == f"{start} names font files beside it; convert it into the same folder"


def test_a_plan_with_problems_is_not_converted(tmp_path: Path) -> None:
    start = tmp_path / "a.toml"
    start.write_text(starter_plan().replace("cells = 8 ", "cells = 0 "))
    with pytest.raises(PlanError) as error:
        convert_plan(start, tmp_path / "a.csv")
    assert str(error.value) == f"{start}:37: cells must be 1 or more, not 0"


def test_what_cannot_be_kept_is_refused(tmp_path: Path) -> None:
    """A sowing that leaves everything to the defaults would be a blank row."""
    start = tmp_path / "a.toml"
    defaults = 'crop = "Onion"\nvariety = "A"\ntray = "pot-18"\ncells = 1\nsow = 2027-03-06'
    start.write_text(f"[defaults]\n{defaults}\n[[sowing]]\n[[sowing]]\nlot = '1'\n")
    with pytest.raises(PlanError) as error:
        convert_plan(start, tmp_path / "a.csv")
    assert str(error.value) == f"{start} cannot be converted without loss"
