"""The transaction of a verb, and what of the database's refusals passes by itself."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from functools import wraps
from typing import ParamSpec, TypeVar

import psycopg
from django.db import DatabaseError, InterfaceError, OperationalError, connection
from django.db import transaction as django_transaction

Given = ParamSpec("Given")
Back = TypeVar("Back")

ASK_FOR_ANOTHER_TRY = {"40001": "serialization failure", "40P01": "deadlock"}
"""PostgreSQL rolled back one of two that were in each other's way; the same, done again, usually succeeds."""

PASS_LATER = {"25P03": "idle in transaction for too long"}
"""Refusals that pass, though psycopg sorts them among the errors of a program."""

PAUSE_S = 0.05
"""The other one gets meanwhile what it was waiting for; at once, this one could take that from it again."""

TOO_LARGE = "54"
"""Class of what is too large for PostgreSQL: it would be the next time too."""

log = logging.getLogger(__name__)


def atomic(verb: Callable[Given, Back]) -> Callable[Given, Back]:
    """Decorate a verb: all of it is done in one transaction, or nothing.

    The outermost verb is done once more, from its beginning, where PostgreSQL rolled it back in favor of another.
    Nothing of the first time is left then, so nothing is done twice. A verb within a verb is a savepoint, and is done
    again with the outermost alone: what it was decided by is rolled back too.

    Source:
        PostgreSQL 18 documentation, 13.5 "Serialization Failure Handling": retry the whole transaction, with all
        that decides what it does. Once: our choice, as who waits is a person.
    """
    whole = django_transaction.atomic(verb)

    @wraps(verb)
    def done(*args: Given.args, **kwargs: Given.kwargs) -> Back:
        if connection.in_atomic_block:
            return whole(*args, **kwargs)
        try:
            return whole(*args, **kwargs)
        except OperationalError as error:
            if (code := sqlstate_of(error)) not in ASK_FOR_ANOTHER_TRY:
                raise
            log.warning("%s: %s; done once more", verb.__qualname__, ASK_FOR_ANOTHER_TRY[code])
            time.sleep(PAUSE_S)
        return whole(*args, **kwargs)

    return done


def take_back() -> None:
    """Let what the verb has written so far be rolled back once it ends, though it ends well: it only tried."""
    django_transaction.set_rollback(True)


def passes_by_itself(error: BaseException) -> bool:
    """Return whether a database error is no fault of ours or of the caller: away, too busy, or stopped by a limit.

    Source:
        PostgreSQL 18 documentation, appendix A "PostgreSQL Error Codes".
    """
    if isinstance(error, InterfaceError):  # the connection was lost before
        return True
    if isinstance(error, OperationalError):
        return not sqlstate_of(error).startswith(TOO_LARGE)
    return isinstance(error, DatabaseError) and sqlstate_of(error) in PASS_LATER


def sqlstate_of(error: BaseException) -> str:
    """Return the five letters by which PostgreSQL names an error; nothing where it never answered."""
    cause = error.__cause__
    return cause.sqlstate or "" if isinstance(cause, psycopg.Error) else ""
