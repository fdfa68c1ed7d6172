"""Setting by which rules a job's openings are ready, and entering what must be done before."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TypedDict, Unpack

from jobs import transaction
from jobs.errors import NotFound
from jobs.models import Job
from jobs.services import add, change
from openings.models import Opening, ReadyRules, TradeBefore
from openings.services.follow import follow_rules
from openings.services.lock import lock_openings


class RuleValues(TypedDict, total=False):
    """Which rules a job goes by."""

    units: bool
    measured: bool
    lead_paint: bool
    weather: bool
    floor_order: Sequence[str]


class TradeValues(TypedDict, total=False):
    """Columns of what must be done before."""

    kind: str
    name: str
    floor: str
    who: str
    expected_on: date | None
    done_on: date | None


@transaction.atomic
def add_ready_rules(*, job: Job, **values: Unpack[RuleValues]) -> ReadyRules:
    """Set by which rules a job goes that went by none; its openings follow.

    Raises:
        ValidationError: it goes by some already, or a value is not kept.
    """
    openings = lock_unfinished(job)
    added = add(ReadyRules(job=job, **values))
    follow_rules(openings)
    return added


@transaction.atomic
def set_ready_rules(*, job: Job, **values: Unpack[RuleValues]) -> ReadyRules:
    """Set by which rules a job goes; what is not named stays as it was, and its openings follow.

    Raises:
        ValidationError: a value is not kept.
    """
    openings = lock_unfinished(job)
    row = ReadyRules.objects.select_for_update(of=("self",)).select_related("job").filter(job=job).first()
    if row is None:
        return add_ready_rules(job=job, **values)
    changed = change(row, **values)
    follow_rules(openings)
    return changed


@transaction.atomic
def add_trade_before(*, job: Job, **values: Unpack[TradeValues]) -> TradeBefore:
    """Enter what must be done before the openings of a job, or of a floor; they follow.

    Raises:
        ValidationError: it is entered already, or a value is not kept.
    """
    openings = lock_unfinished(job)
    added = add(TradeBefore(job=job, **values))
    follow_rules(openings)
    return added


@transaction.atomic
def revise_trade_before(*, trade_id: int, **values: Unpack[TradeValues]) -> TradeBefore:
    """Change what must be done before, such as when it is expected or was done; the openings follow.

    Raises:
        NotFound: there is no such thing.
        ValidationError: a value or a constraint is not kept.
    """
    found = TradeBefore.objects.filter(pk=trade_id).select_related("job").first()
    if found is None:
        raise NotFound(f"there is no trade before {trade_id}")
    openings = lock_unfinished(found.job)
    changed = change(found, **values)
    follow_rules(openings)
    return changed


def lock_unfinished(job: Job) -> list[int]:
    """Return the ids of a job's openings that are not finished, locked until the transaction ends."""
    ids = Opening.objects.unfinished().filter(job=job).values_list("pk", flat=True)
    return [opening.pk for opening in lock_openings(list(ids))]
