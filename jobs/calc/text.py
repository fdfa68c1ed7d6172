"""What a text that people typed may hold."""

from __future__ import annotations

import re

CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")
"""Control characters and halves of a surrogate pair, which neither workbook nor database would take; tab and line
ends are text."""


def has_control(text: str) -> bool:
    """Return whether the text holds a control character."""
    return CONTROL.search(text) is not None
