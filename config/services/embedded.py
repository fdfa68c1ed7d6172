"""The embedded servers as one thing: planned, started, joined."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

from config.services import binaries, postgres, redis
from config.services.claim import Claim, Urls, claimed, is_claimed, published
from config.services.errors import InUse, ServiceError
from config.services.places import Places, places_for
from config.services.processes import Supervisor
from config.services.signals import StopSignals

JOIN_WITHIN_S = 60.0
PAUSE_S = 0.1

Report = Callable[[str], None]


def urls_for(data: Path, *, report: Report) -> Urls:
    """Return the addresses in force: DATABASE_URL and REDIS_URL, each where set, else those that the embedded
    servers of `data` have or will have. Nothing is started.

    Raises:
        ServiceError: `data` cannot be used.
    """
    return _given() or _in_force(_own(places_for(data, report=report)))


@contextmanager
def running(data: Path, *, report: Report, durable: bool = True, share: bool = True) -> Iterator[Urls]:
    """Keep the servers of `data` up while inside, and their addresses in the environment.

    Args:
        data: the folder that keeps what they store; made if missing.
        report: is told what happens, a sentence a time.
        durable: off for a throw-away database.
        share: whether servers that another process already runs on `data` will do.

    Raises:
        InUse: another process runs them and `share` is off.
        ServiceError: one did not come up.
        Stopped: SIGINT, SIGTERM or SIGHUP came; everything is stopped by then.
    """
    if given := _given():
        yield given
        return
    with StopSignals() as stop, ExitStack() as held:
        places = places_for(data, report=report)
        claim = _claim_or_join(places.data, held=held, share=share, stop=stop)
        if isinstance(claim, Claim):
            held.enter_context(places.in_use())
            children = held.enter_context(Supervisor(stop=stop, report=report))
            held.callback(claim.publish, None)  # whoever comes while we stop waits, and starts servers of their own
            urls = start(places, claim=claim, children=children, report=report, durable=durable)
        else:
            held.enter_context(_joined(places.data, claim))
            urls = _in_force(claim)
        with urls.exported(), stop.interruptible():
            yield urls


def start(places: Places, *, claim: Claim, children: Supervisor, report: Report, durable: bool = True) -> Urls:
    """Start the servers that no address in the environment replaces, and publish where they answer.

    The caller is inside `places.in_use()`.

    Raises:
        ServiceError: one did not come up.
        Stopped: we were asked to stop meanwhile.
    """
    own = _own(places)
    urls = _in_force(own)
    programs = binaries.reachable_by(places.account, home=places.home, report=report)
    starting = []
    if urls.database_url == own.database_url:
        if postgres.tidy(places, programs):
            report("Ended a PostgreSQL that a killed run had left behind.")
        if postgres.make_cluster(places, programs):
            report(f"Made a PostgreSQL database in {places.postgres}.")
        starting.append(postgres.program(places, programs, durable=durable))
    if urls.redis_url == own.redis_url:
        if redis.tidy(places, programs):
            report("Ended a Redis that a killed run had left behind.")
        starting.append(redis.program(places, programs))
    children.start(*starting)
    if urls.database_url == own.database_url:
        postgres.make_database(places)
    claim.publish(urls)
    return urls


def _claim_or_join(data: Path, *, held: ExitStack, share: bool, stop: StopSignals) -> Claim | Urls:
    deadline_s = time.monotonic() + JOIN_WITHIN_S
    while True:
        try:
            return held.enter_context(claimed(data))
        except InUse:
            if not share or time.monotonic() > deadline_s:
                raise
        if urls := published(data):
            return urls
        stop.check()
        time.sleep(PAUSE_S)


@contextmanager
def _joined(data: Path, urls: Urls) -> Iterator[None]:
    """Use servers that another process runs; where they went away meanwhile, say that rather than what it broke.

    Raises:
        ServiceError: something failed and that process has stopped its servers.
    """
    try:
        yield
    except Exception as error:
        if published(data) == urls and is_claimed(data):
            raise
        raise ServiceError(
            f"The servers of {data} were stopped by the process that ran them. Run the command again: it then starts "
            "its own."
        ) from error


def _given() -> Urls | None:
    """Return the addresses if the environment names both."""
    database_url, redis_url = os.environ.get("DATABASE_URL"), os.environ.get("REDIS_URL")
    return Urls(database_url=database_url, redis_url=redis_url) if database_url and redis_url else None


def _own(places: Places) -> Urls:
    return Urls(database_url=postgres.url(places), redis_url=redis.url(places))


def _in_force(urls: Urls) -> Urls:
    return Urls(
        database_url=os.environ.get("DATABASE_URL") or urls.database_url,
        redis_url=os.environ.get("REDIS_URL") or urls.redis_url,
    )
