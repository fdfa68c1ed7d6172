"""Placing and releasing the holds that rules find by themselves."""

from __future__ import annotations

from collections.abc import Collection

from django.utils import timezone

from openings.calc.readiness import Found, Rule
from openings.models import Hold, Opening
from openings.models.hold import LONGEST_REASON
from openings.queries.readiness import follows_any_rule, found_by_opening

KINDS = {
    Rule.MEASURED: Hold.Kind.NOT_MEASURED,
    Rule.UNIT: Hold.Kind.UNIT_NOT_ON_SITE,
    Rule.TRADE: Hold.Kind.OTHER_TRADE,
    Rule.PERMIT: Hold.Kind.PERMIT,
    Rule.LEAD_PAINT: Hold.Kind.LEAD_PAINT,
}
"""The kind of hold that each rule places."""

RELEASED = "what it waited for is there"


def follow_rules(opening_ids: Collection[int]) -> None:
    """Have the holds of rules say what is so of openings that the caller has locked. Safe to repeat.

    A finding that is new gets a hold, one that says something else changes it, one that is gone releases it. Where a
    person has placed a hold of that kind, theirs stands. Nine queries at most, however many openings.
    """
    found = found_by_opening(opening_ids)
    held: dict[tuple[int, str], Hold] = {}
    for hold in Hold.objects.open().of_rules().filter(opening__in=opening_ids):
        held[hold.opening_id, hold.rule] = hold
    now = {(pk, str(one.rule)): one for pk, findings in found.items() for one in findings}
    _release([hold for key, hold in held.items() if key not in now])
    _change([(held[key], one) for key, one in now.items() if key in held])
    _place({key: one for key, one in now.items() if key not in held})


def follow_rules_of_job(job_id: int) -> None:
    """Do so for every opening of a job that is not finished, whose openings the caller has locked."""
    if follows_any_rule(job_id):
        follow_rules(list(Opening.objects.unfinished().filter(job=job_id).values_list("pk", flat=True)))


def _place(found: dict[tuple[int, str], Found]) -> None:
    holds = [
        Hold(
            opening_id=opening_id,
            kind=KINDS[one.rule],
            rule=one.rule,
            reason=one.reason[:LONGEST_REASON],
            expected_on=one.expected_on,
        )
        for (opening_id, _), one in found.items()
    ]
    Hold.objects.bulk_create(holds, ignore_conflicts=True)


def _change(pairs: Collection[tuple[Hold, Found]]) -> None:
    changed = []
    for hold, one in pairs:
        said = (one.reason[:LONGEST_REASON], one.expected_on)
        if (hold.reason, hold.expected_on) != said:
            hold.reason, hold.expected_on = said
            changed.append(hold)
    Hold.objects.bulk_update(changed, ["reason", "expected_on"])


def _release(gone: Collection[Hold]) -> None:
    ids = [hold.pk for hold in gone]
    Hold.objects.filter(pk__in=ids).update(released_at=timezone.now(), release_note=RELEASED)
