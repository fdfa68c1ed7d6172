"""Raised → HTTP: every error leaves as RFC 9457 `application/problem+json`."""

from __future__ import annotations

import json
import logging
import re
import sys
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from http import HTTPStatus
from typing import Any

from django.core.exceptions import NON_FIELD_ERRORS, PermissionDenied, RequestDataTooBig
from django.core.exceptions import ValidationError as ModelError
from django.db import DatabaseError, IntegrityError, InterfaceError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from psycopg.errors import UniqueViolation
from rest_framework import exceptions
from rest_framework.permissions import SAFE_METHODS
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import set_rollback

from config import metric
from config.framework_words import in_our_words
from jobs.calc.say import path_name
from jobs.errors import (
    BadInput,
    CallerError,
    ChangedMeanwhile,
    Conflict,
    DayIsPast,
    DayOutOfReach,
    KeyReused,
    NotAllowed,
    NotFound,
    NotNow,
    TooOften,
)
from jobs.transaction import ASK_FOR_ANOTHER_TRY, passes_by_itself, sqlstate_of

CONTENT_TYPE = "application/problem+json"
STATUSES: dict[type[CallerError], int] = {
    BadInput: 400,
    NotAllowed: 403,
    NotFound: 404,
    Conflict: 409,
    ChangedMeanwhile: 412,
    KeyReused: 422,
    TooOften: 429,
    NotNow: 503,
}
NAMES_ITS_ROWS = (409, 412)
DUPLICATE_CODES = {"unique", "unique_together"}
DATE_CODES = {DayOutOfReach.code, DayIsPast.code}
"""What a date is refused with, whether its field saw it or the service."""
KEPT_BY_A_TRIGGER = "23Z01"
"""What our own triggers raise; the sentence, the field and the rule by its name come with it."""

LONGEST_VALUE = 200
NOT_SENT = object()
IN_A_LIST = re.compile(r"\w*[.\[]([0-9]+)\b", re.ASCII)

LOCK_NOT_GOT, STOPPED = "55P03", "57014"
RETRY_AFTER_S = {"in-use": 2, "too-many-at-once": 2, "sign-ins-busy": 2, "took-too-long": 30, "out-of-memory": 30}
"""By the code of what passes by itself: when to ask again (our choice)."""

USUAL_WAIT_S = 5

Fault = dict[str, Any]

log = logging.getLogger(__name__)


def problem(error: Exception, context: dict[str, Any]) -> Response | None:
    """Return the answer to what a view raised, or None where it is our bug."""
    described = describe(error)
    if described is None:
        return None
    set_rollback()
    request = context["request"]
    if isinstance(error, exceptions.ValidationError | ModelError):
        _fill_in_values(described["errors"], _sent(request))
    if hasattr(request, "metric_body"):
        _say_in_metric(described["errors"])
        described["detail"] = metric.names_in_metric(described["detail"])
        _fill_in_values(described["errors"], request.metric_body)
    headers = _headers(error) if isinstance(error, exceptions.APIException) else {}
    response = Response(described, status=described["status"], headers=headers | wait_of(described))
    response.content_type = CONTENT_TYPE
    return response


def describe(error: Exception) -> dict[str, Any] | None:
    """Return the problem document of an error that a caller can mend or that passes by itself, or None."""
    match error:
        case CallerError():
            return _said_by(error)
        case ModelError():
            return _model_problem(error)
        case exceptions.ValidationError():
            return _invalid(list(_flatten(error.get_full_details())))
        case exceptions.APIException():
            return _document(error.status_code, error.default_code.replace("_", "-"), in_our_words(str(error.detail)))
        case IntegrityError() if isinstance(error.__cause__, UniqueViolation):
            return _document(409, "duplicate", "somebody else added the same just now; look at it and try again")
        case IntegrityError() if getattr(error.__cause__, "sqlstate", None) == KEPT_BY_A_TRIGGER:
            return _kept_by_a_trigger(error.__cause__)
        case Http404():
            return _document(404, "not-found", "there is no such thing")
        case PermissionDenied():
            return _document(403, "not-allowed", str(error) or "your role may not do this")
        case RequestDataTooBig():
            return _document(413, "too-large", str(error))
        case DatabaseError() | InterfaceError() | MemoryError():
            return _passing(error)
    return None


def _said_by(error: CallerError) -> dict[str, Any]:
    """Return the problem document of what code raised; a clash names the rows that it is about."""
    status = next(code for root, code in STATUSES.items() if isinstance(error, root))
    described = _document(status, error.code, error.detail, [fault.as_json() for fault in error.faults])
    if error.about and status in NAMES_ITS_ROWS:
        described["conflicts"] = [asdict(one) for one in error.about]
    return described | error.members


def wait_of(document: dict[str, Any]) -> dict[str, str]:
    """Return the header that says when to ask again, where that helps."""
    if "retry_after_s" in document:
        return {"Retry-After": str(document["retry_after_s"])}
    if document["status"] != HTTPStatus.SERVICE_UNAVAILABLE:
        return {}
    return {"Retry-After": str(RETRY_AFTER_S.get(document["code"], USUAL_WAIT_S))}


def page_of(document: dict[str, Any]) -> HttpResponse:
    """Return a page that says what is wrong and asks the database for nothing, not even for who is signed in."""
    page = render_to_string("problem.html", {"problem": document})
    return HttpResponse(page, status=document["status"], headers=wait_of(document))


def _passing(error: Exception) -> dict[str, Any] | None:
    """Return the problem document of what is nobody's fault and passes by itself, or None where it is our bug."""
    if isinstance(error, MemoryError):
        code, sentence = "out-of-memory", "this takes more memory than one request may use; ask for less at once"
    elif not passes_by_itself(error):
        return None
    elif (state := sqlstate_of(error)) == LOCK_NOT_GOT or state in ASK_FOR_ANOTHER_TRY:
        code, sentence = "in-use", "somebody else is changing the same thing; nothing was saved. Try again in a moment"
    elif state == STOPPED:
        code, sentence = (
            "took-too-long",
            "this took too long and was stopped; nothing was saved. Ask for less",
        )
    else:
        code = "database-away"
        sentence = (
            "the database is not answering. Try again in a few seconds; if you were saving something, check first "
            "whether it is there"
        )
    log.warning("Answered 503 (%s): %s: %s", code, type(error).__name__, error)
    return _document(503, code, sentence)


def _document(status: int, code: str, detail: str, faults: list[Fault] | None = None) -> dict[str, Any]:
    return {
        "type": f"urn:weatherlap:problem:{code}",
        "title": HTTPStatus(status).phrase,
        "status": status,
        "detail": detail,
        "code": code,
        "errors": faults or [],
    }


def _invalid(faults: list[tuple[str, str, str]]) -> dict[str, Any]:
    """Return the problem of (field, code, detail) faults: a duplicate or a date where nothing else is wrong."""
    listed = [
        {"field": field, "row": None, "value": "", "detail": detail} | _item(field) for field, _, detail in faults
    ]
    sentence = "; ".join(f"{path_name(field)}: {detail}" if field else detail for field, _, detail in faults[:5])
    if faults and all(code in DUPLICATE_CODES for _, code, _ in faults):
        return _document(409, "duplicate", sentence, listed)
    if len(faults) == 1 and faults[0][1] in DATE_CODES:
        return _document(400, faults[0][1], faults[0][2], listed)
    return _document(400, "invalid", sentence, listed)


def _item(field: str) -> dict[str, int]:
    """Return which of a list that was sent a field stands in, such as `openings.3`; nothing where it stands in none."""
    found = IN_A_LIST.match(field)
    return {"item": int(found[1])} if found else {}


def _kept_by_a_trigger(error: Any) -> dict[str, Any]:
    said, field = str(error.diag.message_primary), str(error.diag.column_name or "")
    code = str(error.diag.constraint_name).replace("_", "-")
    return _document(409, code, said, [{"field": field, "row": None, "value": "", "detail": said}])


def _model_problem(error: ModelError) -> dict[str, Any]:
    by_field = error.error_dict if hasattr(error, "error_dict") else {NON_FIELD_ERRORS: error.error_list}
    return _invalid(
        [
            (
                "" if field == NON_FIELD_ERRORS else field,
                str(one.code or "invalid"),
                " ".join(map(in_our_words, one.messages)),
            )
            for field, errors in by_field.items()
            for one in errors
        ]
    )


def _flatten(details: Any, path: str = "") -> Iterator[tuple[str, str, str]]:
    """Yield (field, code, detail) of the nested errors of a serializer."""
    if isinstance(details, list):
        for index, item in enumerate(details):
            is_leaf = isinstance(item, dict) and set(item) == {"message", "code"}
            is_alone = len(details) == 1 and path
            yield from _flatten(item, path if is_leaf or is_alone else f"{path}[{index}]")
    elif set(details) == {"message", "code"} and not isinstance(details["message"], dict | list):
        yield path, details["code"], in_our_words(str(details["message"]))
    else:
        for name, inner in details.items():
            joined = path if name == "non_field_errors" else f"{path}.{name}".lstrip(".")
            yield from _flatten(inner, joined)


def _sent(request: Request) -> Any:
    """Return what the request asked with: its query, or its body where that can be read."""
    if request.method in SAFE_METHODS:
        return request.query_params
    try:
        return request.data
    except (exceptions.APIException, CallerError):
        return {}


def _fill_in_values(faults: list[Fault], sent: Any) -> None:
    """Say of each fault what was sent, as far as its field was; of a password, nothing."""
    for fault in faults:
        if "password" not in fault["field"] and (value := _at(fault["field"], sent)) is not NOT_SENT:
            fault["value"] = str(value)[:LONGEST_VALUE]


def _at(path: str, sent: Any) -> Any:
    """Return what stands at a path such as `readings[1].width_in`."""
    steps = re.findall(r"[^.\[\]]+", path)
    for step in steps:
        if isinstance(sent, Mapping) and step in sent:
            sent = sent[step]
        elif isinstance(sent, list) and step.isdecimal() and int(step) < len(sent):
            sent = sent[int(step)]
        else:
            return NOT_SENT
    return sent if steps else NOT_SENT


def _say_in_metric(faults: list[Fault]) -> None:
    """Name the measures as the caller does, but for the rows of a file, which has names of its own."""
    for fault in faults:
        fault["detail"] = metric.names_in_metric(fault["detail"])
        if fault["row"] is None:
            fault["field"], fault["value"] = metric.fault_in_metric(fault["field"], fault["value"])


def _headers(error: exceptions.APIException) -> dict[str, str]:
    headers = {}
    if challenge := getattr(error, "auth_header", None):
        headers["WWW-Authenticate"] = challenge
    if wait := getattr(error, "wait", None):
        headers["Retry-After"] = str(int(wait) + 1)
    return headers


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    return _answer(request, _document(404, "not-found", "there is nothing at this address"))


def not_allowed(request: HttpRequest, exception: Exception) -> HttpResponse:
    return _answer(request, _document(403, "not-allowed", str(exception) or "your role may not do this"))


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    return _answer(request, describe(exception) or _document(400, "bad-request", "this cannot be read"))


def too_many_at_once(request: HttpRequest) -> HttpResponse:
    return _answer(
        request, _document(503, "too-many-at-once", "too many people are asking right now; try again in a moment")
    )


def our_fault(request: HttpRequest) -> HttpResponse:
    """Answer what nothing else did. What fails in a middleware, such as reading the session, comes here alone."""
    error = sys.exc_info()[1]
    described = _passing(error) if isinstance(error, DatabaseError | InterfaceError | MemoryError) else None
    return _answer(
        request, described or _document(500, "our-fault", "something went wrong on our side; it is in our log")
    )


def _answer(request: HttpRequest, document: dict[str, Any]) -> HttpResponse:
    if request.path.startswith("/api/"):
        text = json.dumps(document)
        return HttpResponse(text, content_type=CONTENT_TYPE, status=document["status"], headers=wait_of(document))
    if document["status"] == HTTPStatus.SERVICE_UNAVAILABLE:
        return page_of(document)
    return render(request, "problem.html", {"problem": document}, status=document["status"])
