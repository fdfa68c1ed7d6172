"""Errors that a caller can correct, each named by its cause. `config.errors` alone turns these into HTTP."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any, Self


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing wrong in what was sent: its field, its value, and what would be right.

    Args:
        row: of a file, as the file counts.
        item: of what was sent together, from 0.
    """

    field: str
    value: str = ""
    row: int | None = None
    detail: str
    item: int | None = None

    def as_json(self) -> dict[str, Any]:
        """Return it as a problem document lists it; `item` stands there where things were sent together."""
        said = asdict(self)
        return said if self.item is not None else {name: value for name, value in said.items() if name != "item"}


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """One row that an error is about.

    Args:
        type: what it is, spelled as in the fields of the API, such as `crew_day`.
        name: what people call it, such as the mark of an opening.
        detail: what is wrong with it, where that differs from row to row.
    """

    type: str
    id: int
    name: str
    detail: str = ""


class CallerError(Exception):
    """Root of the errors a caller can correct. `code` is stable; the sentence says the figures.

    An API or page may add `members` to the answer, where they help to correct it.

    Args:
        faults: each thing that is wrong, by field.
        about: the rows it is about, as `jobs.queries.about` makes them.
    """

    code = "mendable"

    def __init__(self, detail: str, *, faults: Iterable[Fault] = (), about: Iterable[About] = ()) -> None:
        super().__init__(detail)
        self.detail = detail
        self.faults = tuple(faults)
        self.about = tuple(about)
        self.members: dict[str, Any] = {}


class BadInput(CallerError):
    """What was sent cannot be used as it stands."""

    code = "bad-input"

    @classmethod
    def of(cls, field: str, value: str, sentence: str) -> Self:
        """Return the error of one field, said in one sentence."""
        return cls(sentence, faults=[Fault(field=field, value=value, detail=sentence)])


class NotFound(CallerError):
    """There is no such thing."""

    code = "not-found"


class Conflict(CallerError):
    """A request clashes with the present state."""

    code = "conflict"


class ChangedMeanwhile(CallerError):
    """What was to be changed is not as it was when it was read."""

    code = "changed-meanwhile"


class KeyReused(CallerError):
    """An `Idempotency-Key` came back with something else."""

    code = "key-reused"


class StillAnswering(Conflict):
    """The first request with this `Idempotency-Key` is not done yet."""

    code = "still-answering"


class NotAllowed(CallerError):
    """Somebody else may do this, not the one who asked."""

    code = "not-allowed"


class NotNow(CallerError):
    """What was asked can be done, but not at this moment."""

    code = "not-now"


class SignInsBusy(NotNow):
    """More people sign in than passwords can be looked at."""

    code = "sign-ins-busy"


class TooOften(CallerError):
    """What was asked was asked too often.

    Args:
        wait_s: after how many seconds it may be asked again.
    """

    code = "too-often"

    def __init__(self, detail: str, *, wait_s: int) -> None:
        super().__init__(detail)
        self.members = {"retry_after_s": wait_s}


class DayOff(Conflict):
    """A crew was asked to work on a day off."""

    code = "day-off"


class CrewRetired(Conflict):
    """A crew that is retired was asked to work."""

    code = "crew-retired"


class JobClosed(Conflict):
    """Work was asked for on a job that is closed."""

    code = "job-closed"


class DayOutOfReach(BadInput):
    """A date further back or ahead than what it means allows."""

    code = "day-out-of-reach"


class DayIsPast(DayOutOfReach):
    """A date that lies before today where the job is."""

    code = "day-is-past"


class LastOwner(Conflict):
    """Nobody would be left who can make owners."""

    code = "last-owner"
