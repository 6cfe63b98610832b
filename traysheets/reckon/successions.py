"""Successions: how much later than the first each sowing of a repeated entry is."""

from datetime import timedelta

from traysheets.plan.model import Sowing


def delays(sowing: Sowing) -> list[timedelta]:
    """One delay a succession, the first of them none. A sowing that is not repeated has that one."""
    if sowing.repeat is None:
        return [timedelta()]
    return [timedelta(days=sowing.repeat.every_days * turn) for turn in range(sowing.repeat.times)]
