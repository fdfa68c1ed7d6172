"""How used a crew is to a kind of work."""

from __future__ import annotations

from enum import StrEnum


class Experience(StrEnum):
    """A crew's practice; the same install takes one that lacks it longer."""

    PROFESSIONAL = "professional"
    EXPERIENCED = "experienced"
    FIRST_TIME = "first time"
