"""Reading people and their invitations."""

from __future__ import annotations

from django.contrib.auth.hashers import UNUSABLE_PASSWORD_PREFIX
from django.db.models import QuerySet

from jobs.errors import NotFound
from jobs.models import Invitation, Person

SPENT = "this link was used, replaced or has expired; ask whoever sent it for a new one"


def people() -> QuerySet[Person]:
    """Return everybody, those who can sign in first, each with crew and invitations. Two queries."""
    listed = Person.objects.select_related("crew").order_by("-is_active", "first_name", "last_name", "username")
    return listed.prefetch_related("invitations")


def person_of(person_id: int) -> Person:
    """Return one of `people`. Two queries.

    Raises:
        NotFound: there is no such person.
    """
    found = people().filter(pk=person_id).first()
    if found is None:
        raise NotFound(f"there is no person {person_id}")
    return found


def owners_who_sign_in() -> QuerySet[Person]:
    """Return the owners who are active and have a password of their own."""
    owners = Person.objects.filter(role=Person.Role.OWNER, is_active=True)
    return owners.exclude(password__startswith=UNUSABLE_PASSWORD_PREFIX)


def invitation_by(token: str) -> Invitation:
    """Return the invitation whose link ends with `token`, with its person. One query.

    Raises:
        NotFound: there is none, or it was used, replaced or has expired.
    """
    number, _, _ = token.partition("-")
    if number.isascii() and number.isdecimal() and len(number) < 19:
        found = Invitation.objects.select_related("person").filter(pk=int(number)).first()
        if found and found.is_good(token):
            return found
    raise NotFound(SPENT)
