"""Plans of any size for measuring, made as a grower's plan is: read, reckoned and arranged."""

from datetime import date, timedelta

from traysheets.arrange.arrange import arrange
from traysheets.base.words import words_for
from traysheets.book.codes import make_codes
from traysheets.plan.read import plan_from_toml
from traysheets.reckon.reckon import reckon
from traysheets.sheets.job import Choices, Job
from traysheets.trade.papers import PAPERS

HEAD = """
[plan]
title = "Measured"
grower = "Invented Growers"
season = 2027
record_url = "HTTPS://RECORDS.EXAMPLE.ORG/B/{batch}"
"""

SOWING = """
[[sowing]]
crop = "Onion"
variety = "Variety {number}"
method = "clump"
seeds_per_cell = {seeds}
cells = {cells}
tray = "{tray}"
sow = {day}
sticks = {sticks}
"""


def plan_text(sowings: int, *, cells: int = 8, tray: str = "pot-18", sticks: int = 1, days: int = 10) -> str:
    """A plan of so many sowings of `cells` cells each, spread over `days` sowing days."""
    first = date(2027, 2, 1)
    return HEAD + "".join(
        SOWING.format(
            number=number,
            seeds=5 + number % 20,
            cells=cells,
            tray=tray,
            day=first + timedelta(days=7 * (number % days)),
            sticks=sticks,
        )
        for number in range(sowings)
    )


def job(text: str, stock: str = "a4-21") -> Job:
    """A plan's text read, reckoned, arranged and given batch codes, ready to be drawn."""
    plan = plan_from_toml(text, "measured.toml")
    reckoned = reckon(plan)
    codes = dict(enumerate(make_codes(plan.season, len(reckoned.batches))))
    choices = Choices(paper=PAPERS["a4"], stock=plan.stocks[stock])
    return Job(reckoned, arrange(reckoned), codes, words_for("en"), choices, today=date(2027, 1, 15))
