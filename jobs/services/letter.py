"""Mail: kept as letters, and sent until a mail server takes them."""

from __future__ import annotations

import logging
from datetime import datetime, timedelta
from smtplib import SMTPException, SMTPRecipientsRefused

from django.conf import settings
from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend

from jobs import transaction
from jobs.calc.again import pause_after
from jobs.models import Letter, Person
from jobs.services.row import add

AT_A_TIME = 50
"""So many letters are sent in one go (our choice); the minute after goes on."""

LEASE = timedelta(minutes=10)
"""So long nobody else tries a letter that is being sent (our choice: longer than a task may take)."""

LONGEST_PAUSE = timedelta(hours=1)
"""A server that is away is asked again every hour (our choice), for ever: what it did not take is kept."""

NEVER_TAKEN = 500
"""From this reply code on a server will not take a letter the next time either (RFC 5321 section 4.2.1)."""

log = logging.getLogger(__name__)


def mail(*, address: str, subject: str, text: str, person: Person | None = None) -> Letter:
    """Keep a letter, which the minute sends; call it in the transaction of the verb.

    Args:
        address: one e-mail address.
        text: plain text.
        person: whose notices it tells, where it tells notices.

    Raises:
        ValidationError: the address is none, or the subject is too long.
    """
    return add(Letter(address=address, subject=subject, text=text, person=person))


def send_letters(*, now: datetime) -> int:
    """Send the letters that are due, and return how many a mail server took.

    Where no mail server is set up, each is written to the log once and waits for one.
    """
    if not settings.MAIL_IS_SET_UP:
        _show(now)
        return 0
    letters = _take(now)
    if not letters:
        return 0
    server = get_connection()
    try:
        server.open()
        return sum(_send(letter, server, now) for letter in letters)
    except (OSError, SMTPException) as error:
        log.warning("The mail server does not answer; %d letters wait: %s", len(letters), error)
        for letter in letters:
            if letter.sent_at is None:
                _put_off(letter, now, "the mail server does not answer")
        return sum(letter.sent_at is not None for letter in letters)
    finally:
        server.close()


@transaction.atomic
def _take(now: datetime) -> list[Letter]:
    """Return letters that are due, kept from others for as long as sending them may take."""
    due = Letter.objects.waiting().select_for_update(skip_locked=True).filter(try_at__lte=now)
    letters = list(due.order_by("try_at", "pk")[:AT_A_TIME])
    for letter in letters:
        letter.tries, letter.try_at = letter.tries + 1, now + LEASE
    Letter.objects.bulk_update(letters, ["tries", "try_at"])
    return letters


def _send(letter: Letter, server: BaseEmailBackend, now: datetime) -> bool:
    """Send one letter over an open connection, and return whether the server took it."""
    try:
        _message(letter, server).send()
    except SMTPRecipientsRefused as error:
        code, said = next(iter(error.recipients.values()))
        letter.failure = f"{letter.address} was refused: {said.decode(errors='replace')}"[:300]
        if code >= NEVER_TAKEN:
            letter.gave_up_at = now
            letter.save(update_fields=["failure", "gave_up_at"])
        else:
            _put_off(letter, now, letter.failure)
        return False
    letter.sent_at, letter.failure = now, ""
    letter.save(update_fields=["sent_at", "failure"])
    return True


def _put_off(letter: Letter, now: datetime, failure: str) -> None:
    letter.failure, letter.try_at = failure, now + pause_after(letter.tries, at_most=LONGEST_PAUSE)
    letter.save(update_fields=["failure", "try_at"])


@transaction.atomic
def _show(now: datetime) -> None:
    """Write to the log what has not been shown there."""
    new = Letter.objects.waiting().select_for_update(skip_locked=True).filter(shown_at=None)
    letters = list(new.order_by("pk")[:AT_A_TIME])
    console = get_connection()
    for letter in letters:
        _message(letter, console).send()
    Letter.objects.filter(pk__in=[letter.pk for letter in letters]).update(shown_at=now)


def _message(letter: Letter, connection: BaseEmailBackend) -> EmailMessage:
    return EmailMessage(letter.subject, letter.text, to=[letter.address], connection=connection)
