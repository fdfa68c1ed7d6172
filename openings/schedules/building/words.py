"""What the names and categories of windows say of them in passing."""

from __future__ import annotations

import re

_OPERATIONS = {
    r"fixed|picture": "fixed",
    r"casement|side[ -]?hung": "casement",
    r"awning|top[ -]?hung": "awning",
    r"hopper|bottom[ -]?hung": "hopper",
    r"single[ -]?hung": "single hung",
    r"(?:double|vertical)[ -]?hung": "double hung",
    r"slid(?:ing|er)s?": "sliding",
    r"tilt[ -]?(?:and|&|n)?[ -]?turn": "tilt and turn",
    r"pivot(?:ed|ing)?": "pivot",
    r"jalousie|louv(?:er|re)(?:e?d)?s?": "jalousie",
}
"""Operations by the words for them (terms of the trade, common practice, no source)."""

_IS_OPERATION = {
    re.compile(rf"(?<![a-z])(?:{words})(?![a-z])", re.IGNORECASE): operation for words, operation in _OPERATIONS.items()
}
_ROOFLIGHT = re.compile(r"sky[ -]?light|roof[ -]?(?:light|window)", re.IGNORECASE)

MAX_REMARK_LETTERS = 200


def operation_in(text: str) -> str:
    """Return the operations that a text names.

    >>> operation_in("M_Casement:819mm x 759mm")
    'casement'
    """
    return ", ".join(operation for words, operation in _IS_OPERATION.items() if words.search(text))


def is_rooflight(text: str) -> bool:
    """Return whether a text calls a window a skylight."""
    return _ROOFLIGHT.search(text) is not None


def remarks_of(*parts: str) -> str:
    """Return the parts that say something as one remark, cut off where no column could hold it."""
    remark = "; ".join(filter(None, parts))
    return remark if len(remark) <= MAX_REMARK_LETTERS else remark[: MAX_REMARK_LETTERS - 1] + "…"
