"""Who may do what: everybody signed in reads, but for what says its `readers`; who writes each resource says."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from rest_framework.permissions import SAFE_METHODS, BasePermission
from rest_framework.request import Request

from jobs.models import Person

OFFICE = frozenset({Person.Role.SCHEDULER, Person.Role.OWNER})
STOCK = frozenset({Person.Role.SCHEDULER, Person.Role.WAREHOUSE})
SHELF = STOCK | OFFICE
"""Who keeps the catalogue and the stock: the owner of a firm that starts enters both."""
OWNER = frozenset({Person.Role.OWNER})
FIELD = frozenset({Person.Role.SCHEDULER, Person.Role.CREW_LEAD})
ANYONE = frozenset(Person.Role)


def role_refusal(person: Person, roles: Collection[str]) -> str:
    """Return why a person may not write what is for `roles`, or an empty text where they may."""
    if person.is_superuser or person.role in roles:
        return ""
    named = " and ".join(sorted(f"the {Person.Role(role).label.lower()}" for role in roles))
    return f"only {named} can do this; you are signed in as {Person.Role(person.role).label.lower()}"


class ByRole(BasePermission):
    """Reading is for the view's `readers`, writing for its `writers`."""

    def has_permission(self, request: Request, view: Any) -> bool:
        person = request.user
        if not person.is_authenticated:
            return False
        if request.method not in view.allowed_methods:
            return True  # where nobody can write, 405 says more than 403
        self.message = role_refusal(person, view.readers if request.method in SAFE_METHODS else view.writers)
        return not self.message
