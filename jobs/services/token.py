"""Making and ending what programs sign in with."""

from __future__ import annotations

import secrets
from datetime import timedelta

from django.utils import timezone

from jobs import transaction
from jobs.calc.sign_in import MOST_TOKEN_DAYS
from jobs.errors import BadInput, Conflict, NotFound
from jobs.models import Person, Token
from jobs.queries import digest_of, tokens_of

MOST_TOKENS = 50
"""Of one person at a time (our choice); each is a way in that somebody has to remember."""

USUAL_LIFE = timedelta(hours=12)
"""Of a token for which nobody said how long it is to last."""

USUAL_NAME = "Signed in by a program"


@transaction.atomic
def make_token(*, person: Person, name: str = "", days: int | None = None) -> tuple[Token, str]:
    """Make a token, and return it with its secret, which is kept nowhere.

    Args:
        name: what it is for.
        days: how long it lasts, 1 to 365; a working day if not given.

    Raises:
        BadInput: it would last too long, or for no time.
        Conflict: the person has as many as anybody may have.
    """
    if days is not None and not 1 <= days <= MOST_TOKEN_DAYS:
        raise BadInput.of("days", str(days), f"a token lasts from 1 to {MOST_TOKEN_DAYS} days")
    Person.objects.select_for_update(no_key=True).get(pk=person.pk)
    now = timezone.now()
    Token.objects.filter(person=person, expires_at__lte=now).delete()
    if tokens_of(person).count() >= MOST_TOKENS:
        raise Conflict(f"you have {MOST_TOKENS} tokens, the most that anybody may have; revoke one first")
    secret = secrets.token_hex(32)
    token = Token.objects.create(
        person=person,
        digest=digest_of(secret),
        begins_with=secret[:8],
        name=name or USUAL_NAME,
        expires_at=now + (timedelta(days=days) if days else USUAL_LIFE),
    )
    return token, secret


def token_to_revoke(*, person: Person, token_id: int) -> Token:
    """Return a token of one's own.

    Raises:
        NotFound: they have none with that id.
    """
    token = tokens_of(person).filter(pk=token_id).first()
    if token is None:
        raise NotFound("you have no such token; it may have ended by itself")
    return token


@transaction.atomic
def revoke_token(*, person: Person, token_id: int) -> Token:
    """End a token of one's own, and return it as it was.

    Raises:
        NotFound: they have none with that id.
    """
    token = token_to_revoke(person=person, token_id=token_id)
    Token.objects.filter(pk=token.pk).delete()
    return token
