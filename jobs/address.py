"""Where a request came from."""

from __future__ import annotations

from ipaddress import ip_address

from django.conf import settings
from django.http import HttpRequest
from rest_framework.request import Request


def address_of(request: HttpRequest | Request | None) -> str:
    """Return the address of the machine that asks; empty where nothing says it, as on a Unix socket.

    Behind our proxy it is what the proxy added to `X-Forwarded-For`: the last one. Those before it say what the caller
    wrote, and without a proxy all of it does.
    """
    if request is None:
        return ""
    by_proxy = request.META.get("HTTP_X_FORWARDED_FOR", "") if settings.BEHIND_PROXY else ""
    for said in (by_proxy.rpartition(",")[2].strip(), request.META.get("REMOTE_ADDR", "")):
        try:
            return str(ip_address(said))
        except ValueError:
            continue
    return ""
