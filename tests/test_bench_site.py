"""The drawings of a plan that is served: when the plan is read again."""

from dataclasses import replace
from pathlib import Path

import pytest
from serve_jobs import NOON, PLAN

from traysheets import bench_site
from traysheets.bench_site import site_of
from traysheets.pipeline.checking import Checked, check
from traysheets.pipeline.making import make
from traysheets.pipeline.options import Options


def test_codes_that_a_plan_gets_while_it_is_served_are_seen_and_others_looked_for_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another plan is printed with the same book before it, and gets the codes that this one would have had."""
    times = []

    def counted(*given: object) -> Checked:
        times.append(given)
        return check(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(bench_site, "check", counted)
    plan, other, book = (tmp_path / name for name in ("plan.toml", "other.toml", "plan.book.sqlite"))
    plan.write_text(PLAN, encoding="utf-8")
    other.write_text(PLAN.replace("Little Anchor", "Great Anchor"), encoding="utf-8")
    site = site_of(plan, None, None, lambda: NOON, lambda: 0.0)
    for printed in (other, plan):
        make(Options(printed, book=book, only=("records",)), NOON.date())
    batches = {one.batch.identity.variety: one.batch for one in site.accounts()}
    anchor, of_other = batches["Little Anchor"], batches["Great Anchor"]
    assert site.drawings.batch(anchor, "en")
    assert site.drawings.tray(2, [anchor], "en")
    assert site.drawings.batch(of_other, "en") is None
    assert len(times) == 2
    for gone in (replace(anchor, code="27-099-0"), anchor) * 3:
        site.drawings.batch(gone, "en")
    assert len(times) == 3
