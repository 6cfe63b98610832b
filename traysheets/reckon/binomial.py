"""The binomial distribution, exactly: how likely so many of so many trials come good, and the reverse of that.

No normal approximation and no gamma function: every probability is reckoned from its neighbour by the exact ratio
P(x + 1) / P(x) = (trials - x) / (x + 1) * p / (1 - p), outwards from the most likely number, and the whole is then
brought to 1. What the sums are out by stays under 1e-11 up to ten million trials. Nothing here knows of seeds.
"""

import math
from collections.abc import Callable, Iterator
from functools import lru_cache
from statistics import NormalDist

# Probabilities smaller than this part of the largest one are left out: less than a float can show in the sum.
NEGLIGIBLE = 1e-20

# 1 - (1 - 0.7)^2 comes out a hair under 0.91 in floating point, and reaches 0.91 all the same.
SLACK = 1e-9


def reaches(chance: float, wanted: float) -> bool:
    """Whether a chance is at least the one wanted, but for SLACK."""
    return chance >= wanted - SLACK


def _upwards(trials: int, chance: float, start: int) -> Iterator[float]:
    """Probabilities of `start`, `start` + 1, ... as parts of that of `start`, until they no longer count."""
    odds = chance / (1 - chance)
    weight, value = 1.0, start
    while weight > NEGLIGIBLE:
        yield weight
        weight *= (trials - value) / (value + 1) * odds
        value += 1


def _weights(trials: int, chance: float) -> tuple[int, list[float]]:
    """The first number that counts, and from it on the probabilities, not yet brought to a sum of 1."""
    if chance >= 1:
        return trials, [1.0]
    likeliest = min(trials, math.floor((trials + 1) * chance))
    above = list(_upwards(trials, chance, likeliest))
    # Downwards is upwards for the trials that fail.
    below = list(_upwards(trials, 1 - chance, trials - likeliest))[1:] if likeliest else []
    return likeliest - len(below), [*reversed(below), *above]


@lru_cache(maxsize=16384)
def at_least(trials: int, chance: float, wanted: int) -> float:
    """The chance that `wanted` or more of the trials come good, each with the same chance (above 0, at most 1)."""
    if wanted <= 0:
        return 1.0
    first, weights = _weights(trials, chance)
    return math.fsum(weights[max(0, wanted - first) :]) / math.fsum(weights)


@lru_cache(maxsize=16384)
def most_reached(trials: int, chance: float, confidence: float) -> int:
    """The largest number that is reached, or passed, with at least this confidence."""
    first, weights = _weights(trials, chance)
    whole = math.fsum(weights)
    tail = 0.0
    for number in range(first + len(weights) - 1, first, -1):
        tail += weights[number - first]
        if reaches(tail / whole, confidence):
            return number
    return first


def _first_look(trials: float, chance: float, confidence: float) -> int:
    """About how many trials are wanted, by the normal curve: only where the exact search sets out from."""
    deviations = NormalDist().inv_cdf(min(max(confidence, SLACK), 1 - SLACK))
    return int(trials + deviations * math.sqrt(trials * (1 - chance) / chance))


@lru_cache(maxsize=16384)
def fewest_groups(group: int, chance: float, wanted: int, confidence: float) -> int:
    """The fewest groups of `group` trials that together give `wanted` or more with at least this confidence.

    A group more never makes it less likely, so the answer is closed in from both sides and found by halves.
    """

    def enough(groups: int) -> bool:
        return reaches(at_least(groups * group, chance, wanted), confidence)

    short = -(-wanted // group) - 1
    reach = max(short + 1, _first_look(wanted / chance, chance, confidence) // group)
    step = 1
    while not enough(reach):
        short, reach, step = reach, reach + step, step * 2
    while reach - step > short and enough(reach - step):
        reach, step = reach - step, step * 2
    short = max(short, reach - step)
    return _halved(short, reach, enough)


def _halved(short: int, reach: int, enough: Callable[[int], bool]) -> int:
    """The least number that is enough, between one that is not and one that is."""
    while reach - short > 1:
        half = (short + reach) // 2
        short, reach = (short, half) if enough(half) else (half, reach)
    return reach
