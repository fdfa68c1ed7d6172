"""Links from which calendars elsewhere read."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256

from django.utils import timezone

from jobs import transaction
from jobs.about import about
from jobs.errors import Conflict, NotFound
from jobs.models import CalendarLink, Crew, Job, Person
from jobs.services.row import add, change

READ_NOTED_EVERY = timedelta(hours=1)
"""A calendar that asks every few minutes need not write a row each time (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewLink:
    """A link with its token, which is told once: only its hash is kept."""

    link: CalendarLink
    token: str


@transaction.atomic
def make_calendar_link(*, crew: Crew | None = None, job: Job | None = None, label: str, by: Person) -> NewLink:
    """Make a link to the days of a crew, or to the crews' days at a job.

    Raises:
        ValidationError: neither or both are named, or nobody is named who reads it.
    """
    token = secrets.token_hex(32)
    link = add(CalendarLink(crew=crew, job=job, label=label, made_by=by, token_sha256=hashed(token)))
    return NewLink(link=link, token=token)


@transaction.atomic
def draw_token(*, link_id: int) -> NewLink:
    """Give a link another token; where the one before led, it leads no more.

    Raises:
        NotFound: there is no such link.
        Conflict: it is revoked.
    """
    token = secrets.token_hex(32)
    return NewLink(link=change(_lock(link_id), token_sha256=hashed(token)), token=token)


@transaction.atomic
def revoke_calendar_link(*, link_id: int) -> CalendarLink:
    """Let a link lead nowhere from now on.

    Raises:
        NotFound: there is no such link.
        Conflict: it is revoked already.
    """
    return change(_lock(link_id), revoked_at=timezone.now())


def follow_calendar_link(*, token: str, now: datetime) -> CalendarLink:
    """Return the link that a token is of, and note that it was read.

    Raises:
        NotFound: nobody made such a link, or it was revoked.
    """
    links = CalendarLink.objects.followed().select_related("crew", "job")
    link = links.filter(token_sha256=hashed(token)).first()
    if link is None:
        raise NotFound("there is no such calendar; ask the office for a new link")
    if link.read_at is None or link.read_at < now - READ_NOTED_EVERY:
        CalendarLink.objects.filter(pk=link.pk).update(read_at=now)
    return link


def _lock(link_id: int) -> CalendarLink:
    link = CalendarLink.objects.select_for_update(of=("self",)).select_related("crew", "job").filter(pk=link_id).first()
    if link is None:
        raise NotFound(f"there is no calendar link {link_id}")
    if link.is_revoked:
        raise Conflict(f"the link to {link} is revoked already", about=[about(link)])
    return link


def hashed(token: str) -> str:
    """Return what is kept of a token. It is drawn from 256 bits, so nothing slows the guessing further."""
    return sha256(token.encode()).hexdigest()
