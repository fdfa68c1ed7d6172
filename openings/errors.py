"""Errors of openings, their schedules and their records."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, ClassVar

from jobs.errors import BadInput, Conflict, Fault, NotNow


class BadLength(BadInput):
    """A length that cannot be read or cannot be true of an opening."""

    code = "bad-length"


class BadWeight(BadInput):
    """A weight that glass and frame of that size cannot have, and that nobody confirmed."""

    code = "bad-weight"


class BadHours(BadInput):
    """A time that cannot be read, or that nobody works in a day."""

    code = "bad-hours"


class BadDetail(BadInput):
    """An installation detail that contradicts itself."""

    code = "bad-detail"


class BadWall(BadInput):
    """Layers of a wall that cannot be, or that are too many to be judged."""

    code = "bad-wall"


class BadRate(BadInput):
    """A rate of labor, or what hours and days are calculated by, that cannot be true."""

    code = "bad-rate"


class BadSchedule(BadInput):
    """A window schedule that cannot be taken: the file as a whole, or some of its rows."""

    code = "bad-schedule"


class Unreadable(BadSchedule):
    """A file whose reading took more than it may, or ended the process that read it.

    `is_late` says that it was time that ran out: with more of it the file may be read.
    """

    code = "unreadable"

    def __init__(self, detail: str, *, is_late: bool) -> None:
        super().__init__(detail)
        self.is_late = is_late


class BadList(BadInput):
    """A list of crews, jobs or products that cannot be taken: the file as a whole, or some of its rows."""

    code = "bad-list"


class ReadersBusy(NotNow):
    """As many files as may be read at once are being read."""

    code = "readers-busy"


class WrongRows(BadSchedule):
    """A window schedule that was read, but cannot be taken as it stands; `plan` is what was understood of it."""

    def __init__(self, detail: str, *, plan: Any, faults: Iterable[Fault]) -> None:
        super().__init__(detail, faults=faults)
        self.plan = plan


class BadChoice(BadInput):
    """A choice among the lines of a difference that names what is not there."""

    code = "bad-choice"


class DetailLeaks(Conflict):
    """A detail that lets water in was to be given to an opening, and nobody has accepted that."""

    code = "detail-leaks"


class RowsLeak(DetailLeaks):
    """A window schedule that is right but for details that let water in; `plan` is what was understood of it."""

    def __init__(self, detail: str, *, plan: Any, faults: Iterable[Fault]) -> None:
        super().__init__(detail, faults=faults)
        self.plan = plan


class StepOutOfOrder(Conflict):
    """A step was recorded before the step it laps over."""

    code = "step-out-of-order"


class OpeningBound(Conflict):
    """An opening is too far along for what is asked: assigned, its material on a truck, its install started or done."""

    code = "opening-bound"


class CrewTooSmall(Conflict):
    """An opening was given to a crew of fewer people than its unit takes, and nobody said why."""

    code = "crew-too-small"
    labels: ClassVar = {"short_crew_reason": "Why this crew can lift it safely"}


class OtherDay(Conflict):
    """An opening was to be begun on another day than it is assigned to."""

    code = "other-day"


class OffAlready(Conflict):
    """A crew was set off on days on which it is off already for another reason."""

    code = "off-already"


class WouldStrand(Conflict):
    """A day was to be set so that openings assigned to it have no crew, and nobody said that this is meant."""

    code = "would-strand"


class StepUnknown(BadInput):
    """A step that the lay order of this opening does not have."""

    code = "step-unknown"


class BadLift(BadInput):
    """A lift that cannot be: a load, reach, pace or time that no lift has."""

    code = "bad-lift"
