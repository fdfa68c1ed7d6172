"""Who signed in, for code that nobody else reaches."""

from __future__ import annotations

from django.http import HttpRequest
from rest_framework.request import Request

from jobs.models import Person


def signed_in(request: HttpRequest | Request) -> Person:
    """Return the person who asks, where the view has let in only those who signed in."""
    if not isinstance(request.user, Person):
        raise TypeError("nobody signed in, and the view did not ask whether anybody has")
    return request.user
