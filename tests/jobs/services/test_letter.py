"""Mail as a mail server on this machine receives it."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from datetime import timedelta
from email.message import Message as EmailMessage
from typing import Any

import pytest
from aiosmtpd.controller import Controller
from aiosmtpd.handlers import Message
from django.utils import timezone

from jobs.calc.notice import EventKind
from jobs.models import Letter, Person
from jobs.queries import mail_state
from jobs.services import mail, send_letters, spread_events, tell_event, write_letters
from tests.factories import PersonFactory

pytestmark = pytest.mark.django_db


class Mailbox(Message):
    """A mail server's end: it keeps what it takes, and refuses who is not here."""

    def __init__(self) -> None:
        super().__init__()
        self.taken: list[EmailMessage] = []

    def handle_message(self, message: EmailMessage) -> None:
        self.taken.append(message)

    async def handle_RCPT(self, server: Any, session: Any, envelope: Any, address: str, options: Any) -> str:  # noqa: N802 (the library's)
        if address.startswith("gone"):
            return "550 5.1.1 no such mailbox"
        if address.startswith("busy"):
            return "451 4.3.0 try again later"
        envelope.rcpt_tos.append(address)
        return "250 OK"


@pytest.fixture
def mailbox(settings: Any) -> Iterator[Mailbox]:
    """A mail server on the loopback, which the service is set up for."""
    box = Mailbox()
    with socket.create_server(("127.0.0.1", 0)) as free:
        host, port = free.getsockname()
    server = Controller(box, hostname=host, port=port)
    server.start()
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = host, port
    settings.MAIL_IS_SET_UP = True
    yield box
    server.stop()


def _letter(address: str = "ines@weir.example.test") -> Letter:
    return mail(address=address, subject="W3-01 – Weir", text="Set by Ines’s crew.")


def test_a_letter_reaches_the_mail_server_once(mailbox):
    _letter()
    assert send_letters(now=timezone.now()) == 1
    assert send_letters(now=timezone.now()) == 0
    (taken,) = mailbox.taken
    assert (taken["To"], taken["From"]) == ("ines@weir.example.test", "weatherlap@localhost")
    assert "Set by Ines’s crew." in taken.get_payload(decode=True).decode()
    assert mail_state() == "sent"


def test_what_happened_reaches_who_wants_to_know(mailbox):
    lead = PersonFactory(role=Person.Role.CREW_LEAD, email="ines@weir.example.test")
    tell_event(kind=EventKind.DAY_CHANGED, said="Mon, Nov 30: W3-01 was added.", crew=lead.crew)
    now = timezone.now() + timedelta(minutes=1)
    spread_events(now=now)
    write_letters(now=now)
    assert send_letters(now=now) == 1
    assert "Mon, Nov 30: W3-01 was added." in mailbox.taken[0].get_payload(decode=True).decode()


def test_a_mailbox_that_is_not_there_is_given_up_and_keeps_no_other_waiting(mailbox):
    gone, busy, fine = _letter("gone@weir.example.test"), _letter("busy@weir.example.test"), _letter()
    assert send_letters(now=timezone.now()) == 1
    for letter in (gone, busy, fine):
        letter.refresh_from_db()
    assert fine.sent_at
    assert "no such mailbox" in gone.failure
    assert gone.gave_up_at
    assert "try again later" in busy.failure
    assert not busy.gave_up_at


def test_a_server_that_is_away_loses_nothing(mailbox, settings):
    there, settings.EMAIL_PORT = settings.EMAIL_PORT, 1
    letter, now = _letter(), timezone.now()
    assert send_letters(now=now) == 0
    letter.refresh_from_db()
    assert (letter.sent_at, letter.failure) == (None, "the mail server does not answer")
    assert mail_state() == "the mail server has not taken 1 letter yet"
    settings.EMAIL_PORT = there
    assert send_letters(now=now) == 0  # it waits a minute
    assert send_letters(now=now + timedelta(minutes=2)) == 1


def test_without_a_mail_server_letters_are_shown_in_the_log_once_and_kept(mailoutbox, settings):
    settings.MAIL_IS_SET_UP = False
    _letter()
    for _ in range(2):
        assert send_letters(now=timezone.now()) == 0
    assert len(mailoutbox) == 1
    assert mail_state() == "no mail server is set up; 1 letter kept"
    settings.MAIL_IS_SET_UP = True
    assert send_letters(now=timezone.now()) == 1
