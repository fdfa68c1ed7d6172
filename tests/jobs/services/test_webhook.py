"""Webhooks as a program elsewhere is called by them."""

from __future__ import annotations

import hashlib
import json
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from email.message import Message
from http.server import BaseHTTPRequestHandler, HTTPServer
from typing import Any

import pytest
from django.utils import timezone

from jobs.calc.again import PAUSES
from jobs.calc.notice import EventKind
from jobs.errors import BadInput, Conflict
from jobs.models import Event, Webhook, WebhookTry
from jobs.services import (
    add_webhook,
    call_webhooks,
    draw_secret,
    resume_webhook,
    spread_events,
    stop_webhook,
    tell_event,
)
from tests.factories import CrewFactory, JobFactory, PersonFactory, tomorrow

pytestmark = pytest.mark.django_db


@dataclass
class Receiver:
    """A program elsewhere: what it answers, and what it was sent."""

    address: str = ""
    status: int = 204
    taken: list[tuple[Message, bytes]] = field(default_factory=list)


@pytest.fixture
def receiver(settings: Any) -> Iterator[Receiver]:
    settings.WEBHOOKS_MAY_BE_PRIVATE = True
    it = Receiver()

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            it.taken.append((self.headers, self.rfile.read(int(self.headers["Content-Length"]))))
            self.send_response(it.status)
            self.send_header("Location", f"{it.address}elsewhere")
            self.end_headers()

        def log_message(self, *_: object) -> None:
            """Say nothing."""

    server = HTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
    thread.start()
    it.address = f"http://127.0.0.1:{server.server_port}/hooks?from=weir"
    yield it
    server.shutdown()
    thread.join()
    server.server_close()


def _webhook(receiver: Receiver, *kinds: EventKind) -> Webhook:
    return add_webhook(
        name=f"payroll {Webhook.objects.count()}", address=receiver.address, kinds=kinds, by=PersonFactory()
    )


def _happened(kind: EventKind = EventKind.DAY_CHANGED, **values: Any) -> Event:
    event = tell_event(kind=kind, said="The day changed.", **values)
    spread_events(now=timezone.now())
    assert event
    return event


def hmac_of(secret: str, text: bytes) -> str:
    """HMAC-SHA-256 as RFC 2104 section 2 defines it, written out: H(K xor opad, H(K xor ipad, text))."""
    key = secret.encode().ljust(64, b"\0")
    inner = hashlib.sha256(bytes(byte ^ 0x36 for byte in key) + text).digest()
    return hashlib.sha256(bytes(byte ^ 0x5C for byte in key) + inner).hexdigest()


def test_a_program_is_called_once_with_what_happened_signed(receiver):
    webhook, job, crew = _webhook(receiver), JobFactory(), CrewFactory()
    event = _happened(job=job, crew=crew, on=tomorrow())
    assert call_webhooks(now=timezone.now()) == 1
    assert call_webhooks(now=timezone.now()) == 0
    ((headers, body),) = receiver.taken
    assert json.loads(body) | {"told_at": None} == {
        "id": event.pk,
        "kind": "day_changed",
        "told_at": None,
        "said": "The day changed.",
        "job": {"id": job.pk, "code": job.code, "name": job.name},
        "crew": {"id": crew.pk, "name": crew.name},
        "on": tomorrow().isoformat(),
        "about": [],
    }
    assert headers["Content-Type"] == "application/json"
    assert headers["Weatherlap-Event"] == str(event.pk)
    signed = headers["Weatherlap-Timestamp"].encode() + b"." + body
    assert headers["Weatherlap-Signature"] == f"sha256={hmac_of(webhook.secret, signed)}"
    assert abs(int(headers["Weatherlap-Timestamp"]) - timezone.now().timestamp()) < 60


def test_a_program_is_called_with_the_kinds_it_asks_for(receiver):
    _webhook(receiver, EventKind.NO_SHEET)
    _webhook(receiver)
    _happened()
    assert WebhookTry.objects.count() == 1


@pytest.mark.parametrize(("status", "why"), [(500, "status 500"), (302, "status 302"), (410, "status 410")])
def test_what_is_not_taken_is_sent_again_with_growing_pauses_and_no_redirect_is_followed(receiver, status, why):
    _webhook(receiver)
    _happened()
    receiver.status, now = status, timezone.now()
    for pause in PAUSES:
        assert call_webhooks(now=now) == 0
        one = WebhookTry.objects.get()
        assert why in one.failure
        assert one.try_at == now + pause
        assert call_webhooks(now=one.try_at - timedelta(seconds=1)) == 0
        now = one.try_at
    assert len(receiver.taken) == len(PAUSES)
    receiver.status = 200
    assert call_webhooks(now=now) == 1


def test_in_the_end_it_is_given_up_and_kept(receiver):
    _webhook(receiver)
    _happened()
    receiver.status, now = 500, timezone.now()
    for _ in range(len(PAUSES) + 3):
        call_webhooks(now=now)
        now += PAUSES[-1]
    one = WebhookTry.objects.get()
    assert (one.tries, len(receiver.taken), one.status) == (len(PAUSES) + 1, len(PAUSES) + 1, 500)
    assert one.gave_up_at


def test_who_does_not_answer_keeps_nobody_waiting(receiver):
    silent = _webhook(receiver)
    Webhook.objects.filter(pk=silent.pk).update(address="http://127.0.0.1:1/")
    _webhook(receiver)
    _happened()
    _happened()
    assert call_webhooks(now=timezone.now()) == 2
    assert [one.failure for one in silent.tries.order_by("pk")] == [
        "nobody listens at that address",
        "it did not answer another call",
    ]


def test_private_networks_are_not_called_unless_the_machine_allows_it(receiver, settings):
    _webhook(receiver)
    _happened()
    settings.WEBHOOKS_MAY_BE_PRIVATE = False
    with pytest.raises(BadInput, match="begins with https"):
        _webhook(receiver)
    Webhook.objects.update(address="https://127.0.0.1/")
    call_webhooks(now=timezone.now())
    assert receiver.taken == []
    assert "private network" in WebhookTry.objects.get().failure


def test_a_stopped_webhook_is_not_called(receiver):
    webhook = _webhook(receiver)
    _happened()
    stop_webhook(webhook_id=webhook.pk)
    _happened()
    assert call_webhooks(now=timezone.now()) == 0
    with pytest.raises(Conflict, match="stopped already"):
        stop_webhook(webhook_id=webhook.pk)
    resume_webhook(webhook_id=webhook.pk)
    _happened()
    assert call_webhooks(now=timezone.now()) == 1


def test_another_secret_signs_from_then_on(receiver):
    webhook = _webhook(receiver)
    again = draw_secret(webhook_id=webhook.pk)
    assert again.secret != webhook.secret
    assert len(again.secret) == 64  # 256 bits
