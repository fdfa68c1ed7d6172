"""Which rated operation the free text of a schedule means."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from openings.calc.labor_rates import ONE, Factor

WHOLE_TEXT = {"f": "fixed", "o": "fixed"}
"""Letters of schedules, read only where they stand alone: X-O is a slider, and there O is but one of its panels."""

WORDS = {"picture": "fixed", "dh": "double hung", "doublehung": "double hung"}
"""Other words for an operation (terms of the trade, from memory)."""


NOT_RATED = Factor("operation without a rate of its own", ONE, "company default")


def factor_of_operation(operation: str, factors: Iterable[Factor]) -> Factor:
    """Return the factor whose words all stand in the text, whatever their case and order; else `NOT_RATED`.

    A unit of several operations (casement and fixed) takes the largest of their factors.
    """
    words, largest = _words(operation), NOT_RATED
    for factor in factors:
        if _words(factor.where) <= words and (largest is NOT_RATED or factor.times > largest.times):
            largest = factor
    return largest


@lru_cache(maxsize=4096)
def _words(text: str) -> frozenset[str]:
    text = text.strip().casefold()
    words = re.findall(r"[a-z]+", WHOLE_TEXT.get(text, text))
    singular = (word.removesuffix("s") for word in words)
    return frozenset(part for word in singular for part in WORDS.get(word, word).split())
