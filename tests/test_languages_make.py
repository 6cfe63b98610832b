"""Languages from the plan and from the command line: which the sheets are in, and what is said of wrong ones."""

import re
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from language_jobs import SAMPLE
from pypdf import PdfReader

from traysheets.base.errors import PlanError
from traysheets.cli.main import cli
from traysheets.pipeline.checking import check
from traysheets.pipeline.options import Options

TODAY = date(2027, 1, 15)


def plan(folder: Path, language: str = "") -> Path:
    """The sample, with a line that says its language."""
    file = folder / "plan.toml"
    text = SAMPLE.replace("[defaults]", f"{language}\n[defaults]")
    file.write_text(re.sub(r'(crop|variety|title|grower) = "[^"]*[а-яё][^"]*"', r'\1 = "Acre"', text), encoding="utf-8")
    return file


def said(folder: Path, language: str, *asked: str) -> tuple[str, ...]:
    """The languages of the guide, the first of them that of all other sheets."""
    job = check(Options(plan(folder, language), languages=asked), TODAY).job
    assert job.words is job.guide_words[0]
    return tuple(words.language for words in job.guide_words)


def make(folder: Path, *words: str) -> Result:
    file = plan(folder)
    return CliRunner().invoke(cli, ["make", str(file), *words], catch_exceptions=False)


def test_without_a_word_about_it_sheets_are_in_english(tmp_path: Path) -> None:
    assert said(tmp_path, "") == ("en",)


def test_the_plan_names_one_language_or_two(tmp_path: Path) -> None:
    assert said(tmp_path, 'language = "fr"') == ("fr",)
    assert said(tmp_path, 'language = ["en", "es"]') == ("en", "es")


def test_the_command_comes_before_the_plan(tmp_path: Path) -> None:
    assert said(tmp_path, 'language = ["en", "es"]', "de") == ("de",)
    assert said(tmp_path, 'language = "en"', "PT", "es", "pt") == ("pt", "es")


def test_more_than_two_have_no_room(tmp_path: Path) -> None:
    with pytest.raises(PlanError) as caught:
        said(tmp_path, "", "de", "es", "fr")
    assert str(caught.value) == "3 languages are asked for; the guide has room for 2"


def test_a_language_that_there_is_not_is_said_and_nothing_is_written(tmp_path: Path) -> None:
    result = make(tmp_path, "--language", "xx")
    assert result.exit_code == 1
    assert "there are no words for the language 'xx'; there are: de, en, es, fr, pt" in result.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["plan.toml"]


def test_the_files_of_a_run_are_in_its_language(tmp_path: Path) -> None:
    result = make(
        tmp_path, "-q", "--language", "fr", "--only", "seeds", "--only", "records", "-o", str(tmp_path / "out")
    )
    assert result.exit_code == 0, result.output
    reader = PdfReader(tmp_path / "out" / "seeds.pdf")
    assert (reader.root_object["/Lang"], reader.metadata.title) == ("fr", "Liste des graines\N{NO-BREAK SPACE}: Acre")  # type: ignore[union-attr]
    assert "Semer le samedi 6 mars 2027" in reader.pages[0].extract_text()
    index = (tmp_path / "out" / "records" / "index.html").read_text(encoding="utf-8")
    assert '<html lang="fr" dir="ltr">' in index
    assert "Samedi 6 mars 2027" in index


def test_the_printer_page_is_in_the_language_asked_for(tmp_path: Path) -> None:
    file = tmp_path / "printer.pdf"
    words = ["printer-check", "--paper", "a4", "--language", "DE", "-o", str(file)]
    assert CliRunner().invoke(cli, words, catch_exceptions=False).exit_code == 0
    assert "Druckerprüfung" in PdfReader(file).pages[0].extract_text()
