"""What is worth a look before the work goes on: advice, never a verdict in place of code or licensed practice."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Answer(StrEnum):
    """What a rule says of one opening."""

    MET = "met"
    NOT_MET = "not met"
    TAKE_CARE = "take care"
    CANNOT_TELL = "need info"


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """One rule held against one opening. `reason` names the figures, or the facts that are missing.

    `rule` is its short name and stays the same; `source` gives edition and section.
    """

    rule: str
    answer: Answer
    reason: str
    source: str
