"""`Idempotency-Key`: the same request, sent again by the same person, is answered as the first time and done once.

Source:
    IETF draft-ietf-httpapi-idempotency-key-header-07: 422 for a key that comes back with something else, 409 while the
    first request is not done. A refusal is not kept: it wrote nothing, and who mends what was wrong may keep the key.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.db import connection
from django.http import HttpResponse, QueryDict
from django.utils.encoding import force_bytes
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.errors import BadInput, Fault, KeyReused, StillAnswering
from jobs.models import FirstAnswer
from jobs.names import LONGEST_SHOWN
from jobs.services import add
from jobs.signed_in import signed_in

HEADER = "Idempotency-Key"
LONGEST = FirstAnswer._meta.get_field("key").max_length or 0
KEPT_HEADERS = ("ETag", "Location")


def key_of(request: Request) -> str:
    """Return the key of a request, empty if it has none. Quotes around it are left out: the draft writes them.

    Raises:
        BadInput: it is empty, too long, or not of printable ASCII.
    """
    if (sent := request.headers.get(HEADER)) is None:
        return ""
    key = sent.strip()
    if len(key) > 1 and key[0] == key[-1] == '"':
        key = key[1:-1]
    if not key or len(key) > LONGEST or not (key.isascii() and key.isprintable()):
        sentence = f"{HEADER} takes 1 to {LONGEST} letters, digits and signs, best a UUID"
        raise BadInput.of(HEADER, key[:LONGEST_SHOWN], sentence)
    return key


def asked_by(request: Request) -> str:
    """Return what tells one request from another: method, address with its query, and what the body says.

    The files of a body can be read from their beginning afterwards.
    """
    digest = hashlib.sha256(f"{request.method} {request.get_full_path()}\0".encode())
    digest.update(json.dumps(_said(request.data), sort_keys=True, default=str).encode())
    return digest.hexdigest()


def first_answer(request: Request, key: str, *, asked: str) -> HttpResponse | None:
    """Return the answer that was given to this request, or None, and then nobody else gives it until this one ends.

    Must be called in the transaction that does what is asked.

    Args:
        asked: what `asked_by` says of it.

    Raises:
        StillAnswering: the first request with this key is not done.
        KeyReused: something else was sent with it.
    """
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_try_advisory_xact_lock(%s)", [_lock_of(request.user.pk, key)])
        (is_ours,) = cursor.fetchone()
    if not is_ours:
        raise StillAnswering("the first request with this key is not done yet; send it again in a moment")
    first = FirstAnswer.objects.filter(person=request.user.pk, key=key).first()
    if first is None:
        return None
    if first.asked != asked:
        sentence = "this key was sent with something else before; take a new key for what is new"
        raise KeyReused(sentence, faults=[Fault(field=HEADER, value=key, detail=sentence)])
    answer = HttpResponse(bytes(first.body), status=first.status)
    del answer.headers["Content-Type"]  # what it was is among those kept; an empty answer had none
    for name, value in first.headers.items():
        answer.headers[name] = value
    return answer


def keep_answer(request: Request, key: str, response: Response, *, asked: str) -> None:
    """Keep what is answered, in the transaction that did it: both are there, or neither is."""
    headers = {name: response.headers[name] for name in KEPT_HEADERS if name in response.headers}
    body = b""
    if response.data is not None:
        body = _rendered(request, response)
        headers["Content-Type"] = request.accepted_media_type
    add(
        FirstAnswer(
            person=signed_in(request), key=key, asked=asked, status=response.status_code, headers=headers, body=body
        )
    )


def _rendered(request: Request, response: Response) -> bytes:
    context = request.parser_context | {"request": request, "response": response}
    return force_bytes(request.accepted_renderer.render(response.data, request.accepted_media_type, context))


def _lock_of(person_id: int | None, key: str) -> int:
    digest = hashlib.sha256(f"{HEADER}\0{person_id}\0{key}".encode()).digest()
    return int.from_bytes(digest[:8], signed=True)


def _said(data: Any) -> Any:
    """Return a body without what differs each time it is sent, such as the boundary of a form."""
    if isinstance(data, QueryDict):
        return {name: [_said(value) for value in values] for name, values in data.lists()}
    if isinstance(data, UploadedFile):
        data.seek(0)
        digest = hashlib.file_digest(data, "sha256").hexdigest()
        data.seek(0)
        return [data.name, digest]
    if isinstance(data, Mapping):
        return {str(name): _said(value) for name, value in data.items()}
    return data
