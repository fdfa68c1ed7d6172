"""How passwords are hashed: slowly, and few at once, so that nobody keeps the machine busy with wrong ones."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from threading import BoundedSemaphore, local

from django.contrib.auth.hashers import PBKDF2PasswordHasher

from jobs.errors import SignInsBusy

AT_ONCE = 1
"""How many passwords one process hashes at once; each keeps one core busy for a good part of a second."""

MAY_WAIT = 3
"""How many more may wait for that; each holds one of the requests that the process works at."""

WAIT_S = 5.0

_working, _waiting = BoundedSemaphore(AT_ONCE), BoundedSemaphore(MAY_WAIT)
_thread = local()


@contextmanager
def turn() -> Iterator[None]:
    """Hold a turn at hashing; within one, another is the same.

    Raises:
        SignInsBusy: too many wait for one already.
    """
    if getattr(_thread, "has_a_turn", False):
        yield
        return
    if not _got_a_turn():
        raise SignInsBusy("too many people are signing in right now; try again in a moment")
    _thread.has_a_turn = True
    try:
        yield
    finally:
        _thread.has_a_turn = False
        _working.release()


def _got_a_turn() -> bool:
    if _working.acquire(blocking=False):
        return True
    if not _waiting.acquire(blocking=False):
        return False
    try:
        return _working.acquire(timeout=WAIT_S)
    finally:
        _waiting.release()


class TakesTurns(PBKDF2PasswordHasher):
    """Django's own way, in turns: whoever checks or sets a password, by whatever door."""

    def encode(self, password: str, salt: str, iterations: int | None = None) -> str:
        with turn():
            return super().encode(password, salt, iterations)
