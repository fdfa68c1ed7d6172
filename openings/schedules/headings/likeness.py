"""How much two words look alike."""

from __future__ import annotations

from functools import lru_cache

_LEAST = 0.6
_SHORT_LETTERS = 5
_LEAST_SHORT = 0.75
_CUT_OFF, _SHORTENED = 0.88, 0.86


@lru_cache(maxsize=65_536)
def likeness(written: str, word: str) -> float:
    """Return how surely a word as written stands for a known one, from 0 to 1; less than a little is 0.

    A slip counts by the letters of the longer word: one wrong, missing or added letter as a whole one, two letters
    that changed places or one that is doubled as half. A beginning, or the consonants in order, is an abbreviation.
    The first letter is hardly ever wrong. Our choice of figures.

    >>> likeness("widht", "width")
    0.9
    """
    if written == word:
        return 1.0
    longest = max(len(written), len(word))
    if min(len(written), len(word)) < 3 or word[0] not in written[:2]:
        return 0.0
    if len(written) < len(word) and written[0] == word[0]:
        if word.startswith(written):
            return _CUT_OFF
        if len(written) * 3 >= len(word) and _is_within(written, word) and not set(written[1:]) & set("aeiou"):
            return _SHORTENED
    if abs(len(written) - len(word)) > longest * (1 - _LEAST):
        return 0.0
    alike = 1 - _slips(written, word) / longest - (0 if written[0] == word[0] else 0.1)
    return alike if alike >= (_LEAST_SHORT if longest <= _SHORT_LETTERS else _LEAST) else 0.0


def _is_within(letters: str, word: str) -> bool:
    rest = iter(word)
    return all(letter in rest for letter in letters)


def _slips(written: str, word: str) -> float:
    """Return the least weight of slips that turn a word into what was written (optimal string alignment)."""
    before: list[float] = []
    last = [float(index) for index in range(len(word) + 1)]
    for row, letter in enumerate(written, start=1):
        current = [float(row)]
        for column, wanted in enumerate(word, start=1):
            doubled = row > 1 and letter == written[row - 2]
            cost = min(
                last[column] + (0.5 if doubled else 1),
                current[-1] + 1,
                last[column - 1] + (letter != wanted),
            )
            if row > 1 and column > 1 and letter == word[column - 2] and written[row - 2] == wanted:
                cost = min(cost, before[column - 2] + 0.5)
            current.append(cost)
        before, last = last, current
    return last[-1]
