"""People who sign in, and what they send."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from django.test import Client

from jobs.models import Crew, Person
from openings.models import Opening
from tests.factories import PersonFactory, tomorrow

PASSWORD = "a lapped shingle sheds water"


def person(role: Person.Role, *, crew: Crew | None = None) -> Person:
    """Return somebody who can sign in with PASSWORD."""
    somebody = PersonFactory(role=role, **({"crew": crew} if crew else {}))
    somebody.set_password(PASSWORD)
    somebody.save(update_fields=["password"])
    return somebody


def signed_in(role: Person.Role, *, crew: Crew | None = None) -> Client:
    """Return a client with the session of somebody in that role."""
    client = Client()
    client.force_login(person(role, crew=crew))
    return client


def assign_form(openings: Iterable[Opening], crew: Crew, *, on: date | None = None) -> dict[str, Any]:
    """Return what the crew board sends to assign openings."""
    return {
        "act": "assign",
        "openings": [opening.pk for opening in openings],
        "crew": crew.pk,
        "on": on or tomorrow(),
    }
