"""How often an address may ask, and how soon a pass phrase may be tried again. In memory; pure but for a lock.

Both tell how many seconds to wait, 0 for none. Addresses are forgotten, the longest unseen first, beyond a number.
"""

from collections import OrderedDict
from dataclasses import dataclass
from threading import Lock

_MOST_ADDRESSES = 4096


@dataclass(slots=True)
class _Bucket:
    """A bucket of tokens, filled at a steady rate: many requests at once, few for long."""

    tokens: float
    filled_at: float


class Rates:
    """So many requests a second for long, and `burst` at once, from any one address."""

    def __init__(self, a_second: float, burst: int) -> None:
        self._a_second, self._burst = a_second, burst
        self._buckets: OrderedDict[str, _Bucket] = OrderedDict()
        self._lock = Lock()

    def wait(self, address: str, now: float) -> float:
        """Count a request; the seconds until one more would be answered, 0 when this one is."""
        with self._lock:
            bucket = self._buckets.pop(address, None) or _Bucket(self._burst, now)
            self._buckets[address] = bucket
            if len(self._buckets) > _MOST_ADDRESSES:
                self._buckets.popitem(last=False)
            filled = bucket.tokens + (now - bucket.filled_at) * self._a_second
            bucket.tokens, bucket.filled_at = min(self._burst, filled), now
            if bucket.tokens < 1:
                return (1 - bucket.tokens) / self._a_second
            bucket.tokens -= 1
            return 0.0


class Attempts:
    """Wrong pass phrases: a few are free, then each doubles the wait, up to some minutes.

    Those of one address slow that address. Those of all together slow all, later and less, so that many addresses
    guess no faster than a few, and nobody is locked out for long.
    """

    OWN_FREE, OWN_LONGEST = 3, 600.0
    ALL_FREE, ALL_LONGEST = 30, 20.0
    FORGOTTEN_AFTER = 3600.0

    def __init__(self) -> None:
        self._own: OrderedDict[str, tuple[int, float]] = OrderedDict()
        self._all = (0, 0.0)
        self._lock = Lock()

    def wait(self, address: str, now: float) -> float:
        """Seconds until this address may try again."""
        with self._lock:
            own = self._left(self._own.get(address, (0, 0.0)), self.OWN_FREE, self.OWN_LONGEST, now)
            return max(own, self._left(self._all, self.ALL_FREE, self.ALL_LONGEST, now))

    def failed(self, address: str, now: float) -> None:
        """Count a wrong pass phrase."""
        with self._lock:
            self._own[address] = self._more(self._own.pop(address, (0, 0.0)), now)
            self._all = self._more(self._all, now)
            if len(self._own) > _MOST_ADDRESSES:
                self._own.popitem(last=False)

    def succeeded(self, address: str) -> None:
        """Forget the wrong ones of this address."""
        with self._lock:
            self._own.pop(address, None)

    def _more(self, before: tuple[int, float], now: float) -> tuple[int, float]:
        count, at = before
        return (1, now) if now - at > self.FORGOTTEN_AFTER else (count + 1, now)

    def _left(self, failures: tuple[int, float], free: int, longest: float, now: float) -> float:
        count, at = failures
        if count < free or now - at > self.FORGOTTEN_AFTER:
            return 0.0
        return max(0.0, min(longest, 2.0 ** min(count - free, 30)) - (now - at))
