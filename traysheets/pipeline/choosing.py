"""What a run prints on: the command's choices, else the plan's, else what is usual; and what is odd about the stock."""

from traysheets.base.errors import PlanError, nearest
from traysheets.base.notices import Notice
from traysheets.pipeline.options import LETTER_FAMILY, Options
from traysheets.plan.model import Plan
from traysheets.sheets.job import Choices
from traysheets.trade.papers import PAPERS, Paper
from traysheets.trade.stocks import Stock
from traysheets.trade.tables import SLACK_MM


def choices_of(options: Options, plan: Plan) -> Choices:
    """The choices of this run. Raises PlanError for a stock that there is not, naming the nearest."""
    return Choices(
        PAPERS[_paper(options, plan)],
        _stock(options, plan),
        options.scale,
        options.first_label,
        options.outlines,
        options.grey,
        options.days,
    )


def stock_notices(options: Options, plan: Plan, choices: Choices) -> tuple[Notice, ...]:
    """That the usual sticks stand on other paper than the sheets, where there is no usual stock for theirs."""
    if options.stock or plan.stock or _is_of(choices.stock, choices.paper):
        return ()
    card = next((paper.name for paper in PAPERS.values() if _is_of(choices.stock, paper)), "other")
    text = (
        f"load {card} card for sticks.pdf: there is no usual stock of {choices.paper.name} size, so the sticks"
        f" stand on '{choices.stock.name}'; another is chosen with --stock, or as stock under [plan]"
    )
    return (Notice(text),)


def _paper(options: Options, plan: Plan) -> str:
    return options.paper or plan.paper or ("letter" if plan.units == "inch" else "a4")


def _stock(options: Options, plan: Plan) -> Stock:
    """The stock that is named, else the stakes to be cut from card of the paper's own size or family."""
    usual = "stake-25x150-letter" if _paper(options, plan) in LETTER_FAMILY else "stake-25x150-a4"
    stock = options.stock or plan.stock or usual
    if stock in plan.stocks:
        return plan.stocks[stock]
    near = nearest(stock, plan.stocks)
    hint = f"did you mean '{near}'?" if near else f"there are: {', '.join(plan.stocks)}"
    raise PlanError(f"there is no label stock '{stock}'; {hint}")


def _is_of(stock: Stock, paper: Paper) -> bool:
    """Whether the page of a stock is a sheet of that paper, upright or on its side."""
    sides = zip(sorted(stock.page_mm), sorted((paper.width_mm, paper.height_mm)), strict=True)
    return all(abs(one - other) <= SLACK_MM for one, other in sides)
