"""What every request passes."""

from __future__ import annotations

from collections.abc import Callable
from threading import BoundedSemaphore

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.middleware.gzip import GZipMiddleware

from config import web
from config.errors import too_many_at_once

QUICK = ("/health/", "/static/")
SLOTS = max(1, web.threads // 2)
"""How many requests one web process works at at once; half of its threads, and as many connections to the database."""

MAY_WAIT = max(1, SLOTS - 2)
"""How many more may wait for that. What is left of the threads answers at once: health checks, and `try again`."""

WAIT_S = 10.0


def few_at_once(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Work at some requests at once, let some wait and answer 503 to the rest: slow ones stop no health check.

    It stands before everything that asks the database, so that who waits holds no connection.
    """
    working, waiting = BoundedSemaphore(SLOTS), BoundedSemaphore(MAY_WAIT)

    def got_a_slot() -> bool:
        if working.acquire(blocking=False):
            return True
        if not waiting.acquire(blocking=False):
            return False
        try:
            return working.acquire(timeout=WAIT_S)
        finally:
            waiting.release()

    def middleware(request: HttpRequest) -> HttpResponse:
        if request.path_info.startswith(QUICK):
            return get_response(request)
        if not got_a_slot():
            return too_many_at_once(request)
        try:
            return get_response(request)
        finally:
            working.release()

    return middleware


CONTENT = (
    "default-src 'none'; script-src 'self'; style-src {styles}; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
"""What a page may load and run: what this service serves, and no script or style that stands in the page itself.

Source:
    Content Security Policy Level 3 (W3C), 6 "Content Security Policy Directives".
"""

STYLED_IN_LINE = "/api/docs/"
"""The page of the API's document is a library's, and has a few styles of its own in the page; no script, though."""


def private_and_ours_alone(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Let nobody keep an answer, on a shared computer neither, and let pages load and run only what we serve.

    It stands behind what serves static files, which are the same for everybody and may be kept.

    Source:
        RFC 9111, 5.2.2.5 "no-store".
    """

    def middleware(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        styles = "'self' 'unsafe-inline'" if request.path_info == STYLED_IN_LINE else "'self'"
        response.headers.setdefault("Content-Security-Policy", CONTENT.format(styles=styles))
        response.headers.setdefault("Cache-Control", "no-store")
        return response

    return middleware


def slash_optional(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Serve an API address with and without its last slash: a redirect would turn a POST into a GET."""

    def middleware(request: HttpRequest) -> HttpResponse:
        if request.path_info.startswith("/api/") and not request.path_info.endswith("/"):
            request.path_info += "/"
        return get_response(request)

    return middleware


class Compressed(GZipMiddleware):
    """Compresses what is answered, with a length that differs each time (Django's mitigation of BREACH).

    An answer that says a version is left as it is: compressed, its tag would be a weak one, which `If-Match` refuses.
    """

    def process_response(self, request: HttpRequest, response: HttpResponseBase) -> HttpResponseBase:
        return response if response.has_header("ETag") else super().process_response(request, response)
