"""What a caller can mend, named by what is wrong. `config.errors` alone turns these into HTTP."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong in what was sent: where it stands, what stands there, what would be right."""

    field: str
    value: str = ""
    row: int | None = None
    detail: str


class CallerError(Exception):
    """Root of the errors a caller can mend. `code` is stable; the sentence says the figures.

    An edge may add `members` to what is answered, where they help to mend it.
    """

    code = "mendable"

    def __init__(self, detail: str, *, faults: Iterable[Fault] = ()) -> None:
        super().__init__(detail)
        self.detail = detail
        self.faults = tuple(faults)
        self.members: dict[str, Any] = {}


class BadInput(CallerError):
    """What was sent cannot be used as it stands."""

    code = "bad-input"


class NotFound(CallerError):
    """There is no such thing."""

    code = "not-found"


class Conflict(CallerError):
    """What was asked clashes with what already holds."""

    code = "conflict"


class NotAllowed(CallerError):
    """Somebody else may do this, not the one who asked."""

    code = "not-allowed"


class NotNow(CallerError):
    """What was asked can be done, but not at this moment."""

    code = "not-now"


class DayOff(Conflict):
    """A crew was asked to work on a day off."""

    code = "day-off"


class DayOutOfReach(BadInput):
    """A date further back or ahead than what it means allows."""

    code = "day-out-of-reach"


class DayIsPast(DayOutOfReach):
    """A date that lies before today where the job is."""

    code = "day-is-past"
