"""How lists, boards and pages grow with the openings that lie behind, against a read that cannot grow."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from django.db import connection
from django.test import Client

from config.bench.history import fill
from config.bench.timing import seconds
from jobs.models import Person
from openings.models import State

SIZES = (10_000, 100_000, 1_000_000)
TURNS, LONG_S = 5, 2.0
"""How often each is read; once where it takes long."""

LARGE = 5_000
"""Reading so many rows of a table from end to end is worth a word."""

NOUNS = (
    "jobs", "crews", "crew-days", "forecasts", "details", "schedules", "schedule-drafts", "schedule-layouts",
    "openings", "measurements", "holds", "assignments", "install-records", "callbacks", "products", "detail-products",
    "compatibilities", "compatibility-evidence", "places", "lots", "movements", "pull-sheets", "remnants",
)  # fmt: skip
"""The endpoints that answer with a list in pages."""

WHOLE = (
    "api/v1/boards/crews/", "api/v1/boards/stranded/", "api/v1/boards/staging/", "api/v1/boards/cautions/",
    "api/v1/boards/progress/", "api/v1/stock/", "api/v1/shortages/", "api/v1/rolls-to-settle/",
    "boards/crews/", "boards/staging/", "boards/progress/", "boards/remnants/", "jobs/", "jobs/1/", "jobs/1/draw/",
    "openings/1/", "openings/2/", "metrics",
)  # fmt: skip
"""What answers in one piece."""

FIXED_PAGE = """
SELECT o.*, j.code FROM openings_opening o JOIN jobs_job j ON j.id = o.job_id
WHERE o.id BETWEEN 101 AND 150 ORDER BY o.id
"""


@dataclass(slots=True, kw_only=True)
class Growth:
    """One read: its seconds by size, and the large tables that it reads from end to end at the largest size."""

    name: str
    seconds: dict[int, float] = field(default_factory=dict)
    whole: tuple[str, ...] = ()

    @property
    def times(self) -> float:
        """How many times as long the largest size takes as the smallest."""
        by_size = [self.seconds[size] for size in sorted(self.seconds)]
        return by_size[-1] / by_size[0]


def measure(sizes: tuple[int, ...], *, say: Callable[[str], object]) -> list[Growth]:
    """Return the reference and then every read, measured in a database of its own for each size."""
    found: dict[str, Growth] = {}
    for size in sorted(sizes):
        with _database():
            say(f"writing {size:,} openings")
            fill(size)
            client = Client(SERVER_NAME="localhost")
            client.force_login(Person.objects.get(username="office"))
            found.setdefault(REFERENCE, Growth(name=REFERENCE)).seconds[size] = _best(_read_fixed_page)
            for name, path in _reads(client):
                say(f"{size:,}: {name}")
                one, read = found.setdefault(name, Growth(name=name)), partial(_get, client, path)
                with _noted() as asked:
                    one.seconds[size] = _best(read)
                if size == max(sizes):
                    one.whole = _read_whole(asked)
    return list(found.values())


REFERENCE = "50 openings by their ids, bare"


def _reads(client: Client) -> Iterator[tuple[str, str]]:
    for noun in NOUNS:
        yield from _pages(client, noun, f"/api/v1/{noun}/")
    for state in State.ALL:
        yield from _pages(client, f"openings, {state}", f"/api/v1/openings/?state={state}")
    for path in WHOLE:
        yield path, f"/{path}"


def _pages(client: Client, name: str, path: str) -> Iterator[tuple[str, str]]:
    """Yield the first page, and the middle and the last where there are several."""
    pages = -(-json.loads(_get(client, path))["count"] // 50)
    yield name, path
    joined = f"{path}{'&' if '?' in path else '?'}page="
    if pages > 2:
        yield f"{name}, middle", f"{joined}{pages // 2}"
    if pages > 1:
        yield f"{name}, last", f"{joined}{pages}"


def _get(client: Client, path: str) -> bytes:
    answer = client.get(path)
    if answer.status_code != 200:
        raise RuntimeError(f"{path} answered {answer.status_code}: {answer.content[:500]!r}")
    return answer.content


def _read_fixed_page() -> None:
    with connection.cursor() as cursor:
        cursor.execute(FIXED_PAGE)
        cursor.fetchall()


def _best(work: Callable[[], object]) -> float:
    best = seconds(work)
    for _ in range(TURNS - 1 if best < LONG_S else 0):
        best = min(best, seconds(work))
    return best


@contextmanager
def _noted() -> Iterator[dict[str, Any]]:
    """Give the statements that are asked meanwhile, each once, with its values."""
    asked: dict[str, Any] = {}

    def note(execute: Callable[..., Any], sql: str, params: Any, many: bool, context: Any) -> Any:
        if sql.lstrip().startswith(("SELECT", "WITH", "(SELECT")):
            asked[sql] = params
        return execute(sql, params, many, context)

    with connection.execute_wrapper(note):
        yield asked


def _read_whole(asked: dict[str, Any]) -> tuple[str, ...]:
    """Return the large tables of which PostgreSQL reads every row to answer the statements."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT relname FROM pg_class WHERE reltuples >= %s", [LARGE])
        large = {name for (name,) in cursor.fetchall()}
        whole: set[str] = set()
        for sql, params in asked.items():
            cursor.execute(f"EXPLAIN (FORMAT JSON) {sql}", params)
            whole |= set(_whole_of(cursor.fetchone()[0][0]["Plan"])) & large
    return tuple(sorted(whole))


def _whole_of(node: dict[str, Any]) -> Iterator[str]:
    if node["Node Type"] == "Seq Scan":
        yield node["Relation Name"]
    for inner in node.get("Plans", ()):
        yield from _whole_of(inner)


@contextmanager
def _database() -> Iterator[None]:
    name = connection.settings_dict["NAME"]
    connection.creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
    try:
        yield
    finally:
        connection.creation.destroy_test_db(name, verbosity=0)
