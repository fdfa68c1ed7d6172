"""Named reads of who signed in and who tried to."""

from __future__ import annotations

from datetime import datetime

from django.db.models import Count, Max, Q, QuerySet

from jobs.calc.sign_in import (
    ADDRESS_COUNTS_FOR,
    KNOWN_FOR,
    WAITS_BY_ADDRESS,
    WAITS_BY_NAME,
    WrongTries,
    counted_name,
    waits_until,
)
from jobs.models import SignIn

_WRONG = Q(outcome__in=SignIn.WRONG)
_FORGIVES = Q(outcome__in=(SignIn.Outcome.RIGHT, SignIn.Outcome.UNLOCKED))


def refused_until(*, counted_as: str, network: str, now: datetime) -> datetime | None:
    """Return until when a try by this name from there is not looked at, or None where it is. At most 5 queries.

    From an address where the name signed in of late only wrong tries by this name from there count.
    """
    by_name = SignIn.objects.filter(counted_as=counted_as)
    if network and by_name.filter(network=network, outcome=SignIn.Outcome.RIGHT, at__gte=now - KNOWN_FOR).exists():
        return waits_until(_wrong_in_a_row(by_name.filter(network=network)), WAITS_BY_NAME)
    of_name = waits_until(_wrong_in_a_row(by_name), WAITS_BY_NAME)
    of_address = waits_until(_wrong_from(network, now=now), WAITS_BY_ADDRESS) if network else None
    return max(filter(None, (of_name, of_address)), default=None)


def sign_ins(name: str = "") -> QuerySet[SignIn]:
    """Return the tries to sign in, the newest first; those by one name where it is given. One query."""
    tries = SignIn.objects.select_related("person")
    return tries.filter(counted_as=counted_name(name)) if name else tries


def _wrong_in_a_row(tries: QuerySet[SignIn]) -> WrongTries:
    forgiven = tries.filter(_FORGIVES).aggregate(last=Max("at"))["last"]
    return _wrong_of(tries.filter(at__gt=forgiven) if forgiven else tries)


def _wrong_from(network: str, *, now: datetime) -> WrongTries:
    """Return what counts against an address: to know one password must not pay for tries at others."""
    tries = SignIn.objects.filter(network=network, at__gt=now - ADDRESS_COUNTS_FOR)
    unlocked = tries.filter(outcome=SignIn.Outcome.UNLOCKED).aggregate(last=Max("at"))["last"]
    return _wrong_of(tries.filter(at__gt=unlocked) if unlocked else tries)


def _wrong_of(tries: QuerySet[SignIn]) -> WrongTries:
    found = tries.filter(_WRONG).aggregate(count=Count("pk"), last=Max("at"))
    return WrongTries(count=found["count"], last_at=found["last"])
