"""Named reads of tokens."""

from __future__ import annotations

from hashlib import sha256

from django.db.models import QuerySet
from django.utils import timezone

from jobs.models import Person, Token


def digest_of(secret: str) -> str:
    """Return what is kept of a secret. It is too long to be guessed, so a quick hash hides it as well as a slow one."""
    return sha256(secret.encode()).hexdigest()


def token_of(secret: str) -> Token | None:
    """Return the token with that secret and its person, None where it has ended or they are not active. One query."""
    live = Token.objects.filter(expires_at__gt=timezone.now(), person__is_active=True)
    return live.select_related("person").filter(digest=digest_of(secret)).first()


def tokens_of(person: Person) -> QuerySet[Token]:
    """Return the tokens of somebody that have not ended. One query."""
    return Token.objects.filter(person=person, expires_at__gt=timezone.now())
