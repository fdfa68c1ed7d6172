"""What every request passes."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse


def slash_optional(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Serve an API address with and without its last slash: a redirect would turn a POST into a GET."""

    def middleware(request: HttpRequest) -> HttpResponse:
        if request.path_info.startswith("/api/") and not request.path_info.endswith("/"):
            request.path_info += "/"
        return get_response(request)

    return middleware
