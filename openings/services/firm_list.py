"""Lists of jobs and crews with which a firm starts: tried, or taken as a whole."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.core.exceptions import ValidationError

from jobs import transaction
from jobs.errors import Fault
from jobs.models import Crew, Job
from jobs.services import add_crew, add_job, faults_of
from openings.calc.firm_list import FirmList
from openings.errors import BadList

_ADD: Mapping[FirmList, Callable[..., Job | Crew]] = {FirmList.JOBS: add_job, FirmList.CREWS: add_crew}
_WHOLE: Mapping[FirmList, str] = {FirmList.JOBS: "", FirmList.CREWS: "truck"}
"""What a row's own constraint is about, where the database names no column."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FirmListOutcome:
    """What a list adds, by `item` from 0, and what is wrong in it."""

    added: Mapping[int, Job | Crew]
    faults: tuple[Fault, ...]


@transaction.atomic
def take_firm_list(kind: FirmList, rows: Sequence[Mapping[str, Any]]) -> list[Job | Crew]:
    """Add the jobs or crews of a list: all of them, or none.

    Args:
        rows: the columns that a person gives, as `add_job` or `add_crew` takes them.

    Raises:
        BadList: a line cannot be taken; `faults` name each by `item`.
    """
    outcome = _add(kind, rows)
    if outcome.faults:
        raise BadList(f"nothing was added: {outcome.faults[0].detail}", faults=outcome.faults)
    return list(outcome.added.values())


@transaction.atomic
def try_firm_list(kind: FirmList, rows: Sequence[Mapping[str, Any]]) -> FirmListOutcome:
    """Return what `take_firm_list` would add, and everything wrong; nothing is written."""
    outcome = _add(kind, rows)
    transaction.take_back()
    return outcome


def _add(kind: FirmList, rows: Sequence[Mapping[str, Any]]) -> FirmListOutcome:
    added: dict[int, Job | Crew] = {}
    faults: list[Fault] = []
    for item, row in enumerate(rows):
        try:
            added[item] = _ADD[kind](**row)
        except ValidationError as error:
            faults += faults_of(error, row, item=item, whole=_WHOLE[kind])
    return FirmListOutcome(added=added, faults=tuple(faults))
