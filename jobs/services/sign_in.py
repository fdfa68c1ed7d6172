"""Checking a password, and keeping what came of it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from math import ceil

from django.db.models import F, Q
from django.utils import timezone

from jobs import transaction
from jobs.calc import say
from jobs.calc.sign_in import LOG_KEPT_FOR, counted_name, network_of
from jobs.errors import NotFound, TooOften
from jobs.hashing import turn
from jobs.models import Person, SignIn
from jobs.queries import refused_until


def try_password(*, name: str, address: str, check: Callable[[], Person | None]) -> Person | None:
    """Return whom a password belongs to, None where it is wrong, and keep what came of it.

    A try counts as wrong until its password was right, so that many at once gain nothing.

    Args:
        name: as it was typed.
        address: where it comes from, empty where nothing says it.
        check: looks at the password; not called while the name or the address must wait.

    Raises:
        TooOften: there were too many wrong ones; it says when to try again.
        SignInsBusy: too many passwords are being looked at.
    """
    _require_may_try(name, address)
    with turn():
        _require_may_try(name, address)  # others went first while this one waited
        tried = SignIn.objects.create(
            name=name[:150],
            counted_as=counted_name(name)[:300],
            address=address or None,
            network=network_of(address),
            person=Person.objects.filter(username=name).first(),
            outcome=SignIn.Outcome.WRONG,
        )
        found = check()
        tried.outcome = _outcome(tried, found)
        tried.save(update_fields=["outcome"])
    return found


def _outcome(tried: SignIn, found: Person | None) -> SignIn.Outcome:
    if found:
        return SignIn.Outcome.RIGHT
    if tried.person is None:
        return SignIn.Outcome.UNKNOWN
    return SignIn.Outcome.WRONG if tried.person.is_active else SignIn.Outcome.LEFT


def _require_may_try(name: str, address: str) -> None:
    now = timezone.now()
    counted_as, network = counted_name(name)[:300], network_of(address)
    until = refused_until(counted_as=counted_as, network=network, now=now)
    if until is None or until <= now:
        return
    _count_refused(counted_as, network)
    wait_s = ceil((until - now).total_seconds())
    raise TooOften(
        f"there were too many wrong passwords; try again in {say.duration(wait_s)}, or ask an owner to unlock it",
        wait_s=wait_s,
    )


def _count_refused(counted_as: str, network: str) -> None:
    """Count a refused try with the last one that was looked at: a row for each would let anybody fill the table."""
    tries = SignIn.objects.filter(Q(counted_as=counted_as) | (Q(network=network) & ~Q(network="")))
    last = tries.order_by("-at", "-pk").values_list("pk", flat=True).first()
    if last is not None:
        SignIn.objects.filter(pk=last).update(refused_count=F("refused_count") + 1)


@transaction.atomic
def unlock_sign_in(*, sign_in_id: int) -> SignIn:
    """Let the name and the address of a try begin anew, as if nothing wrong had been tried.

    Raises:
        NotFound: there is no such try, or it is forgotten by now.
    """
    tried = SignIn.objects.filter(pk=sign_in_id).first()
    if tried is None:
        raise NotFound("there is no such sign-in; it may be too old to be kept")
    return SignIn.objects.create(
        name=tried.name,
        counted_as=tried.counted_as,
        address=tried.address,
        network=tried.network,
        person=tried.person,
        outcome=SignIn.Outcome.UNLOCKED,
    )


def forget_old_sign_ins(*, now: datetime) -> int:
    """Forget the sign-ins that are kept for too long, and return how many. Safe to repeat."""
    count, _ = SignIn.objects.filter(at__lt=now - LOG_KEPT_FOR).delete()
    return count
