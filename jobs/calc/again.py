"""When what did not succeed is tried again."""

from __future__ import annotations

from datetime import timedelta
from typing import Final

PAUSES: Final = tuple(timedelta(minutes=minutes) for minutes in (1, 5, 15, 60, 3 * 60, 6 * 60, 12 * 60, 24 * 60))
"""Growing pauses (our choice: soon after a short fault, and still the day after tomorrow)."""


def pause_after(tries: int, *, at_most: timedelta = PAUSES[-1]) -> timedelta:
    """Return how long to wait after so many tries.

    >>> pause_after(1), pause_after(2), pause_after(99, at_most=timedelta(hours=1))
    (datetime.timedelta(seconds=60), datetime.timedelta(seconds=300), datetime.timedelta(seconds=3600))
    """
    return min(PAUSES[min(tries, len(PAUSES)) - 1], at_most)
