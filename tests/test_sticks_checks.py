"""What cannot be printed on sticks is refused in words that help; what is odd about them is said beside the result."""

import pytest
import stick_jobs as sj

from traysheets.base.errors import SheetError
from traysheets.base.notices import Notice
from traysheets.sheets.job import Job
from traysheets.sheets.sticks import stick_notices, stick_pages
from traysheets.trade.stocks import Stock


def label(width: float, height: float, **other: object) -> Stock:
    """A roll of the grower's own."""
    size = (width, height)
    facts = {"rows": 1, "columns": 1, "first_mm": (0.0, 0.0), "pitch_mm": size, "built_in": False}
    return Stock("mine", "mine", size, size, **facts | other)  # type: ignore[arg-type]


def refusal(job: Job) -> list[str]:
    with pytest.raises(SheetError) as caught:
        list(stick_pages(job))
    with pytest.raises(SheetError) as again:
        stick_notices(job)
    assert again.value.problems == caught.value.problems
    return [str(problem) for problem in caught.value.problems]


def test_a_label_too_small_for_a_stick_names_one_that_would_do() -> None:
    assert refusal(sj.job([sj.batch(0)], label(20, 10))) == [
        "labels of 20 × 10 mm (stock 'mine') are too small for a QR code that scans, the variety and the batch code; "
        "the stock 'a4-65' would do"
    ]


def test_a_code_that_would_come_out_too_fine_is_refused() -> None:
    """61 characters are the most that version 3 holds at level M (ISO/IEC 18004, table 7): 37 modules with the zone."""
    fits = "HTTPS://RECORDS.EXAMPLE.ORG/" + "A" * (61 - 28 - 8) + "{batch}"
    job = sj.job([sj.batch(0)], "letter-80", record_url=fits)
    assert "modules of 0.34 mm" in stick_notices(job)[0].text
    one_more = sj.job([sj.batch(0)], "letter-80", record_url=fits.replace("{batch}", "A{batch}"))
    text = fits.replace("{batch}", "A27-014-K")
    assert refusal(one_more) == [
        f"labels of 44.45 × 12.7 mm (stock 'letter-80') are too small for the QR code of '{text}': its modules would "
        "come out under 0.34 mm, too small to scan; the stock 'letter-30' would do; a shorter record_url helps as well"
    ]


def test_without_a_stock_that_would_do_none_is_named() -> None:
    job = sj.job([sj.batch(0)], label(20, 10), stocks={})
    assert refusal(job)[0].endswith("the variety and the batch code")


def test_a_batch_code_too_long_for_the_label() -> None:
    code = "NORTH-HOUSE-2027-ONIONS-BENCH-4-K"
    job = sj.job([sj.batch(0), sj.batch(1)], "a4-65", codes={0: "27-014-K", 1: code}, record_url=None)
    assert refusal(job) == [
        f"plan.toml:20: the batch code '{code}' is too long for the stock 'a4-65', which has room for 22 mm of it at "
        "7 pt; the stock 'letter-10' would do"
    ]


@pytest.mark.parametrize(("first", "stock", "holds"), [(22, "a4-21", "labels 1 to 21"), (2, "roll-57x32", "one label")])
def test_the_first_free_label_must_be_on_the_page(first: int, stock: str, holds: str) -> None:
    job = sj.job([sj.batch(0)], stock, first_label=first)
    assert refusal(job) == [f"the first free label cannot be {first}: a page of the stock '{stock}' has {holds}"]


def test_characters_that_no_font_has_are_named_with_their_line_and_all_at_once() -> None:
    batches = [sj.batch(0, ("Winter 葱", "Onion", "A")), sj.batch(1, ("Short Stout", "Carrot", "lot ☃"))]
    found = refusal(sj.job(batches))
    assert [text.split(":")[:2] for text in found] == [["plan.toml", "10"], ["plan.toml", "20"]]
    assert "the variety 'Winter 葱'" in found[0]
    assert "U+8471" in found[0]
    assert "the lot 'lot ☃'" in found[1]


def test_everything_wrong_is_said_together() -> None:
    job = sj.job([sj.batch(0, ("Winter 葱", "Onion", "A"))], label(20, 10), first_label=3)
    assert len(refusal(job)) == 3


def test_a_plain_job_has_nothing_to_say() -> None:
    assert stick_notices(sj.job([sj.batch(0), sj.batch(1, sj.SHORT, treated=True)], "a4-21")) == ()


def test_small_modules_and_facts_without_room_are_said_once_for_all_batches() -> None:
    batches = [sj.batch(index, what="stations 3x2") for index in range(4)]
    assert stick_notices(sj.job(batches, "letter-80")) == (
        Notice(
            "sticks on 'letter-80': the QR codes have modules of 0.38 mm, and phones read 0.42 mm or more well; "
            "the stock 'letter-30' would do"
        ),
        Notice(
            "sticks on 'letter-80' have no room for the lot (4 batches), tray and cells (4 batches); "
            "the records show it all"
        ),
    )


def test_a_name_that_is_cut_is_said_with_its_line() -> None:
    endless = ("An " + "endlessly " * 28 + "long one", "Onion", "A")
    (notice,) = stick_notices(sj.job([sj.batch(0), sj.batch(1, endless)], "a4-21"))
    assert notice == Notice("the variety is too long for its stick and ends in …; the record shows it whole", 20)


def test_successions_of_one_sowing_are_warned_of_once() -> None:
    endless = ("An " + "endlessly " * 28 + "long one", "Onion", "A")
    job = sj.job([sj.batch(0, endless, line=7), sj.batch(1, endless, line=7)], "a4-21")
    assert [notice.line for notice in stick_notices(job)] == [7]
