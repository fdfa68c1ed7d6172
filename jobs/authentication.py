"""Who asks: told by a token, or by a name and a password."""

from __future__ import annotations

from functools import partial
from typing import Any

from django.contrib.auth.backends import ModelBackend
from django.http import HttpRequest
from rest_framework import authentication
from rest_framework.exceptions import AuthenticationFailed

from jobs import queries, services
from jobs.address import address_of
from jobs.models import Person, Token


class TokenAuthentication(authentication.TokenAuthentication):
    """A token of which only the hash is kept."""

    def authenticate_credentials(self, key: str) -> tuple[Person, Token]:
        """Return whose token it is.

        Raises:
            AuthenticationFailed: nobody's, or of somebody who is no longer active.
        """
        token = queries.token_of(key)
        if token is None:
            raise AuthenticationFailed("Invalid token.")
        return token.person, token


class CountedPasswords(ModelBackend):
    """A name and a password, by whatever door; wrong ones are slowed, then locked, and all are kept."""

    def authenticate(
        self, request: HttpRequest | None, username: str | None = None, password: str | None = None, **kwargs: Any
    ) -> Person | None:
        """Return whose name and password it is, or None.

        Raises:
            TooOften: there were too many wrong ones.
            SignInsBusy: too many are looked at right now.
        """
        if username is None or password is None:
            return None
        check = partial(super().authenticate, request, username=username, password=password)
        return services.try_password(name=username, address=address_of(request), check=check)
