"""How often Python looks for waste. For the whole process, so only a command sets it."""

import gc


def collect_seldom() -> None:
    """Let Python look for circles of waste seldom: what a run makes either lives to its end or goes by itself, and to
    walk over all of it again and again takes a tenth of the time.
    """
    if not gc.get_freeze_count():  # else what a command left before, in the same process, would never be let go
        gc.freeze()
    gc.set_threshold(20_000, 10, 10)
