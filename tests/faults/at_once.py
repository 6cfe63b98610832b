"""Many runs at once: into one folder, and on one book. Any may be refused, none may spoil another's work."""

from collections import Counter
from pathlib import Path
from random import Random

from workshop import Workshop, on_paper, tree, varieties

_TEN = 10
_REFUSALS = (
    "another run is writing here just now",
    "run this again",
    "it is being written to by another program; try again",
)


def ten_runs_one_folder(place: Path, rounds: int, _: Random) -> Counter[str]:
    """Ten runs of one plan into one folder. At least one goes through, and all files are of that plan."""
    shop, counts = Workshop(place), Counter[str](runs=0)
    for number in range(rounds):
        meant = shop.meant(number)
        shop.write_plan(number)
        runs = [shop.start() for _ in range(_TEN)]
        done = [_went_through(run.wait(), run.said()) for run in runs]
        counts.update({"runs": _TEN, "went through": sum(done), "refused": _TEN - sum(done)})
        assert any(done), "all were refused"
        assert {name: tree(shop.output)[name] for name in meant} == meant
        assert shop.at_rest()
        shop.check()
        shop.make()
    return counts


def ten_plans_one_book(place: Path, rounds: int, _: Random) -> Counter[str]:
    """Ten plans that share a book, made at once until each has gone through: no code is given to two of them."""
    book, counts = place / "shared.book.sqlite", Counter[str](runs=0)
    shops = [Workshop(place / f"garden-{number}", book=book) for number in range(_TEN)]
    for number in range(rounds):
        left = list(enumerate(shops))
        for garden, shop in left:
            shop.write_plan(1000 * (garden + 1) + number)
        while left:
            runs = [(garden, shop, shop.start()) for garden, shop in left]
            done = [_went_through(run.wait(), run.said()) for _, _, run in runs]
            counts.update({"runs": len(runs), "went through": sum(done), "refused": len(done) - sum(done)})
            assert any(done), "all were refused"
            left = [(garden, shop) for (garden, shop, _), through in zip(runs, done, strict=True) if not through]
        for shop in shops:
            shop.check()
            assert on_paper(shop.output).items() <= varieties(book).items()
        given = [code for shop in shops for code in on_paper(shop.output)]
        assert len(set(given)) == len(given) == 3 * _TEN, "a code stands on the papers of two plans"
    return counts


def _went_through(status: int, said: str) -> bool:
    assert status in (0, 1), said
    assert status == 0 or any(refusal in said for refusal in _REFUSALS), said
    return status == 0
