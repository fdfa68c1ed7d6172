"""Installation details of a job."""

from __future__ import annotations

from typing import Unpack

from jobs import transaction
from jobs.about import about
from jobs.errors import BadInput, Conflict
from jobs.models import Job
from jobs.services import add, change
from openings.calc.binding import revising_detail
from openings.calc.facts import ANSWERS
from openings.calc.geometry import require_detail
from openings.calc.starting_details import STARTING_DETAILS
from openings.calc.water.faults import Name
from openings.calc.water.said import faults_of, leak_faults, leak_of_change
from openings.errors import BadDetail, DetailLeaks, OpeningBound
from openings.models import InstallationDetail, Opening
from openings.models.values import DetailAnswers, DetailValues
from openings.queries.binding import why_bound
from openings.services.fasteners import standard_fasteners
from openings.services.lock import lock_detail_of_openings

KEPT_APART = {"name", "is_default"}
"""What of a detail says nothing of how it is laid."""

_ELSE = "; or add another detail and give it to the openings that it is for"


@transaction.atomic
def add_detail(
    *,
    job: Job,
    name: str,
    starting_point: str = "",
    copy_of: InstallationDetail | None = None,
    **values: Unpack[DetailAnswers],
) -> InstallationDetail:
    """Add a detail to a job, from a starting point or another detail, and what differs from it.

    That somebody accepted a leak of the other detail is not copied: it was accepted for that job.

    Args:
        copy_of: a detail of any job; the answers of the products that are staged for it stay with it.

    Raises:
        BadInput: both a starting point and a detail to copy are named.
        ValidationError: the name is taken in this job, or the answers contradict one another.
    """
    if starting_point and copy_of:
        sentence = "begin with a starting point or with a copy of another detail, not with both"
        raise BadInput.of("copy_of", str(copy_of), sentence)
    start = copy_of or (STARTING_DETAILS[starting_point] if starting_point else None)
    answers = {answer: getattr(start, answer) for answer in ANSWERS} if start else {}
    return add(InstallationDetail(job=job, name=name, **standard_fasteners(), **{**answers, **values}))


@transaction.atomic
def revise_detail(*, detail_id: int, **values: Unpack[DetailValues]) -> InstallationDetail:
    """Change the named columns of a detail: it reaches all openings that have it.

    Raises:
        NotFound: there is no such detail.
        OpeningBound: material for an opening that has it is on a truck, or its install was started; one is named.
        ValidationError: the answers contradict one another.
        Conflict: an opening that has this detail could not take it any more.
        DetailLeaks: openings have it, and the change would let water in that it keeps out now.
    """
    detail = lock_detail_of_openings(detail_id)
    openings = Opening.objects.not_void().filter(detail=detail)
    changed = [name for name, value in values.items() if value != getattr(detail, name)]
    if bound := why_bound(openings, revising_detail(changed)):
        opening_id, why = next(iter(bound.items()))
        first = openings.get(pk=opening_id)
        sentence = f"{first} has detail {detail}, so that stays as it is: {why}{_ELSE}"
        raise OpeningBound(sentence, about=[about(first), about(detail)])
    before = _refused_before(detail)
    change(detail, **values)
    facts = detail.as_facts()
    if not set(changed) <= KEPT_APART:
        _let_in_no_more(detail, before, has_openings=openings.exists())
    for opening in openings:
        try:
            require_detail(opening.as_facts(), facts)
        except BadDetail as error:
            sentence = f"{opening} has this detail and cannot take the change: {error.detail}"
            raise Conflict(sentence, about=[about(opening), about(detail)]) from error
    return detail


def _refused_before(detail: InstallationDetail) -> frozenset[Name]:
    """Return for what a detail is refused as it stands; nothing where its answers contradict one another."""
    try:
        return frozenset(fault.name for fault in faults_of(detail.as_facts()))
    except BadDetail:
        return frozenset()


def _let_in_no_more(detail: InstallationDetail, before: frozenset[Name], *, has_openings: bool) -> None:
    """Refuse a change that lets water into openings; what somebody accepted holds for the answers of then only."""
    faults = [fault for fault in faults_of(detail.as_facts()) if fault.name not in before]
    if has_openings and faults:
        said = leak_faults(faults, field="own_order" if detail.own_order else "detail", value=detail.name)
        raise DetailLeaks(leak_of_change(detail.name, faults), faults=said, about=[about(detail)])
    if detail.is_leak_accepted:
        change(detail, leak_accepted_by=None, leak_accepted_at=None, leak_accepted_why="")
