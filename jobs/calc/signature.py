"""Signing what is sent to a program elsewhere, so that it knows who sent it and when."""

from __future__ import annotations

import hashlib
import hmac


def signature(secret: str, *, sent_at: int, body: bytes) -> str:
    """Return the signature of a call, in hexadecimal digits.

    It is made over the time, a full stop and the body, so that neither is changed and an old call is not sent again.

    >>> signature("Jefe", sent_at=1, body=b"what do ya want for nothing?")[:16]
    'a9049465ce89cfb8'

    Args:
        secret: what both ends know.
        sent_at: seconds since 1970.

    Source:
        RFC 2104, HMAC, with SHA-256 (FIPS 180-4).
    """
    return hmac_sha256(secret.encode(), b"%d." % sent_at + body)


def hmac_sha256(key: bytes, text: bytes) -> str:
    """Return the HMAC-SHA-256 of a text, in hexadecimal digits.

    Source:
        RFC 2104; test cases in RFC 4231.
    """
    return hmac.new(key, text, hashlib.sha256).hexdigest()
