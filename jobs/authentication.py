"""Who asks: told by a token."""

from __future__ import annotations

from knox import auth
from knox.models import AuthToken
from rest_framework.exceptions import AuthenticationFailed

from jobs.models import Person


class TokenAuthentication(auth.TokenAuthentication):  # type: ignore[misc]  # knox has no types
    """A token of which only the hash is kept."""

    def authenticate_credentials(self, token: bytes) -> tuple[Person, AuthToken]:
        """Return whose token it is.

        Raises:
            AuthenticationFailed: nobody's; bytes that are no text are nobody's too.
        """
        if not token.isascii():
            raise AuthenticationFailed("Invalid token.")
        found: tuple[Person, AuthToken] = super().authenticate_credentials(token)
        return found
