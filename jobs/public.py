"""Where people elsewhere reach this service."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest
from rest_framework.request import Request


def public_address(request: HttpRequest | Request, path: str) -> str:
    """Return a whole address: under that which the service is known by, else under the one it was asked at.

    Args:
        path: from the first slash on, as `reverse` gives it.
    """
    return f"{settings.PUBLIC_ADDRESS}{path}" if settings.PUBLIC_ADDRESS else request.build_absolute_uri(path)
