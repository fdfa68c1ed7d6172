"""Several people doing something at the same moment, each on a connection of their own."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import Any

from django.db import connection

from jobs.errors import Conflict

PATIENCE_S = 10


def at_once(*works: Callable[[], Any]) -> list[Any]:
    """Let all works go together, and return what each gave back or was refused."""
    gate = Barrier(len(works))

    def run(work: Callable[[], Any]) -> Any:
        gate.wait(timeout=PATIENCE_S)
        try:
            return work()
        except Conflict as refused:
            return refused
        finally:
            connection.close()

    with ThreadPoolExecutor(len(works)) as threads:
        return list(threads.map(run, works))
