"""What no stick lacks, whatever its stock and language: QR code, variety, the map's letters, batch code."""

from dataclasses import replace
from datetime import date
from functools import cache

import pytest

from traysheets.arrange.arrange import arrange
from traysheets.base.bundle import bundled
from traysheets.base.words import languages, words_for
from traysheets.page.qr import LEAST_MODULE_MM
from traysheets.plan.read import read_plan
from traysheets.reckon.reckon import reckon
from traysheets.sheets.job import Choices, Job
from traysheets.sheets.stick_checks import checked_design
from traysheets.sheets.stick_design import letter
from traysheets.sheets.stick_facts import pieces
from traysheets.sheets.stick_places import widest_place
from traysheets.trade.papers import PAPERS
from traysheets.trade.stocks import built_in_stocks


@cache
def spring() -> Job:
    plan = read_plan(bundled("sample_plans") / "spring.toml")
    reckoned = reckon(plan)
    codes = {batch.index: f"27-{batch.index + 1:03}-K" for batch in reckoned.batches}
    choices = Choices(PAPERS["a4"], next(iter(plan.stocks.values())))
    return Job(reckoned, arrange(reckoned), codes, words_for("en"), choices, date(2027, 1, 15))


@pytest.mark.parametrize("stock", built_in_stocks())
@pytest.mark.parametrize("language", languages())
def test_every_stick_tells_letters_variety_and_batch_code(language: str, stock: str) -> None:
    made = spring()
    made = replace(made, words=words_for(language), choices=replace(made.choices, stock=made.plan.stocks[stock]))
    design = checked_design(made)
    assert design.module_mm >= LEAST_MODULE_MM
    for batch in made.batches:
        sowing, code = batch.sowing, made.codes[batch.index]
        lettering = letter(design, sowing.variety, pieces(made, batch, widest_place(made, batch)))
        assert {"name", "code"} & {*lettering.left_out, *lettering.cut} == set()
        said = [it.text for it in lettering.settings]
        assert any(text.endswith(code) for text in said)
        assert any(text == sowing.code or text.startswith(f"{sowing.code} ") for text in said)
        name = "".join(it.text for it in lettering.settings if it.kind == "name")
        assert name.replace(" ", "") == sowing.variety.replace(" ", "")
