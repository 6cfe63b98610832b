"""What `make` says when it is stopped by hand (Ctrl+C): whether anything was written by then."""

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner
from test_cli import SMALL, files_below

from traysheets.cli.main import cli
from traysheets.pipeline import making
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    file = tmp_path / "two.toml"
    file.write_text(SMALL, encoding="utf-8")
    return file


def stop(*_: object, **__: object) -> None:
    raise KeyboardInterrupt


@pytest.mark.parametrize("at", ["check", "account", "output_files", "enter"])
def test_a_stop_says_whether_anything_was_written(plan: Path, at: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Up to entering the batches in the book nothing is; then it depends on the moment, and another run settles it."""
    monkeypatch.setattr(making, at, stop)
    result = CliRunner().invoke(cli, ["make", str(plan), "-q"])
    said = (
        "the finished files were being put in place, of which each is whole, old or new, and codes may be in the book"
        " already; run this again"
        if at == "enter"
        else "nothing was written"
    )
    assert (result.exit_code, result.stdout, result.stderr) == (1, "", f"Stopped: {said}\nAborted!\n")
    assert files_below(plan.parent) == {"two.toml"}


def test_a_stop_of_who_calls_it_from_a_program_is_a_stop(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(making, "account", stop)
    with pytest.raises(KeyboardInterrupt, match=r"^nothing was written$"):
        make(Options(plan), date(2027, 1, 15))
