"""Installation details of a job."""

from __future__ import annotations

from dataclasses import asdict
from typing import Unpack

from jobs import transaction
from jobs.about import about
from jobs.errors import Conflict
from jobs.models import Job
from jobs.services import add, change
from openings.calc.binding import revising_detail
from openings.calc.geometry import require_detail
from openings.calc.starting_details import STARTING_DETAILS
from openings.errors import BadDetail, OpeningBound
from openings.models import InstallationDetail, Opening
from openings.models.values import DetailAnswers, DetailValues
from openings.queries.binding import why_bound
from openings.services.lock import lock_detail_of_openings

_ELSE = "; or add another detail and give it to the openings that it is for"


@transaction.atomic
def add_detail(*, job: Job, name: str, starting_point: str = "", **values: Unpack[DetailAnswers]) -> InstallationDetail:
    """Add a detail to a job, from a starting point and what differs from it.

    Raises:
        ValidationError: the name is taken in this job, or the answers contradict one another.
    """
    start = asdict(STARTING_DETAILS[starting_point]) if starting_point else {}
    return add(InstallationDetail(job=job, name=name, **{**start, **values}))


@transaction.atomic
def revise_detail(*, detail_id: int, **values: Unpack[DetailValues]) -> InstallationDetail:
    """Change the named columns of a detail: it reaches all openings that have it.

    Raises:
        NotFound: there is no such detail.
        OpeningBound: material for an opening that has it is on a truck, or its install was started; one is named.
        ValidationError: the answers contradict one another.
        Conflict: an opening that has this detail could not take it any more.
    """
    detail = lock_detail_of_openings(detail_id)
    openings = Opening.objects.not_void().filter(detail=detail)
    changed = [name for name, value in values.items() if value != getattr(detail, name)]
    if bound := why_bound(openings, revising_detail(changed)):
        opening_id, why = next(iter(bound.items()))
        first = openings.get(pk=opening_id)
        sentence = f"{first} has detail {detail}, so that stays as it is: {why}{_ELSE}"
        raise OpeningBound(sentence, about=[about(first), about(detail)])
    change(detail, **values)
    facts = detail.as_facts()
    for opening in openings:
        try:
            require_detail(opening.as_facts(), facts)
        except BadDetail as error:
            sentence = f"{opening} has this detail and cannot take the change: {error.detail}"
            raise Conflict(sentence, about=[about(opening), about(detail)]) from error
    return detail
