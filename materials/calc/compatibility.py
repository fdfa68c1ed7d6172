"""Whether two chemistries may touch."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum


class Verdict(StrEnum):
    """What is known of a pair; what is not known is to be tested first."""

    COMPATIBLE = "compatible"
    NOT_COMPATIBLE = "not compatible"
    TEST_FIRST = "test first"


def verdict_of(chemistry: str, neighbor: str, *, known: Mapping[tuple[str, str], Verdict]) -> Verdict:
    """Return what is known of a pair, whichever way round it is listed; `TEST_FIRST` where nothing is.

    Source:
        Compatibility is tested, not assumed: AAMA 713. Its makers' pages leave most pairs to a test.
    """
    return known.get((chemistry, neighbor)) or known.get((neighbor, chemistry)) or Verdict.TEST_FIRST
