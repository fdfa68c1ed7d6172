"""Telling people what happened: notices, and the letters that carry them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import datetime, timedelta

from django.conf import settings

from jobs import transaction
from jobs.calc.letter import Told, subject_of, text_of
from jobs.calc.notice import EventKind, How, mailed_at
from jobs.models import Event, Letter, Notice, NoticeChoice, Person, Webhook, WebhookTry
from jobs.queries import concerns, office_zone, told_of
from jobs.services.letter import mail

AT_A_TIME = 500
"""So many events are spread in one transaction (our choice); the minute after goes on."""

QUIET_FOR = timedelta(minutes=10)
"""So long nobody gets another letter of notices (our choice): what happens meanwhile is told in one."""

TOO_OLD_TO_MAIL = timedelta(days=2)
"""What could not be mailed for so long, since nobody had entered an address, stands on the page alone (our choice)."""

EVENTS_KEPT_FOR = timedelta(days=180)
"""How long it is known what was told (our choice: longer than a job of this trade lasts, mostly)."""


@transaction.atomic
def choose_notices(*, person: Person, how: Mapping[EventKind, How]) -> None:
    """Keep how a person wants to be told of these kinds of events."""
    NoticeChoice.objects.bulk_create(
        [NoticeChoice(person=person, kind=kind, how=chosen) for kind, chosen in how.items()],
        update_conflicts=True,
        unique_fields=["person", "kind"],
        update_fields=["how"],
    )


@transaction.atomic
def spread_events(*, now: datetime) -> int:
    """Make notices and calls of webhooks of the events that are new; return of how many. Safe to repeat."""
    events = list(Event.objects.new().select_for_update(skip_locked=True).order_by("pk")[:AT_A_TIME])
    if events:
        Notice.objects.bulk_create(_notices(events), ignore_conflicts=True)
        WebhookTry.objects.bulk_create(_calls(events, now), ignore_conflicts=True)
        Event.objects.filter(pk__in=[event.pk for event in events]).update(spread_at=now)
    return len(events)


def _notices(events: list[Event]) -> list[Notice]:
    people = list(Person.objects.filter(is_active=True))
    told, zone = told_of(people), office_zone()
    return [
        Notice(
            person=person,
            event=event,
            due_at=mailed_at(how, told_at=event.told_at, on=event.on, time_zone=zone),
        )
        for event in events
        for person in people
        if (how := told[person.pk, EventKind(event.kind)]) is not How.NEVER and concerns(event, person)
    ]


def _calls(events: list[Event], now: datetime) -> list[WebhookTry]:
    webhooks = list(Webhook.objects.called())
    return [
        WebhookTry(webhook=webhook, event=event, try_at=now)
        for event in events
        for webhook in webhooks
        if not webhook.kinds or event.kind in webhook.kinds
    ]


@transaction.atomic
def write_letters(*, now: datetime) -> int:
    """Write one letter to each person of all notices that are due, and return how many. Safe to repeat.

    Who got a letter a moment ago waits for the next, so that a morning of changes is no storm of mail.
    """
    due = Notice.objects.select_for_update(of=("self",), skip_locked=True).select_related("event", "person")
    due = due.filter(letter=None, due_at__lte=now, due_at__gt=now - TOO_OLD_TO_MAIL, person__is_active=True)
    lately = Letter.objects.filter(written_at__gt=now - QUIET_FOR, person__isnull=False).values("person")
    by_person = defaultdict(list)
    for notice in due.exclude(person__email="").exclude(person__in=lately).order_by("pk"):
        by_person[notice.person].append(notice)
    for person, notices in by_person.items():
        _write(person, notices)
    return len(by_person)


def _write(person: Person, notices: list[Notice]) -> None:
    told = [Told(kind=EventKind(notice.event.kind), said=notice.event.said) for notice in notices]
    page = f"{settings.PUBLIC_ADDRESS}/account/notices/" if settings.PUBLIC_ADDRESS else ""
    letter = mail(address=person.email, subject=subject_of(told), text=text_of(told, page=page), person=person)
    Notice.objects.filter(pk__in=[notice.pk for notice in notices]).update(letter=letter)


def forget_old_events(*, now: datetime) -> int:
    """Forget the events that were told long ago, with their notices and calls; return how many. Safe to repeat.

    One of a day that is not long past is kept, since calendars count by it how often the day changed.
    """
    since = now - EVENTS_KEPT_FOR
    old = Event.objects.filter(told_at__lt=since).exclude(on__gte=since.date())
    return old.delete()[0]
