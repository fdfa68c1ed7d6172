"""The servers that tests need, up before Django reads its settings and down after the last test."""

from __future__ import annotations

import os
import sys
from collections.abc import Generator
from contextlib import ExitStack
from itertools import count
from urllib.parse import urlsplit

import pytest

from config import services

XDIST_WORKER = "PYTEST_XDIST_WORKER"


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_load_initial_conftests(early_config: pytest.Config) -> Generator[None]:
    """Start embedded servers where no address is set; the workers of a parallel run inherit the addresses."""
    os.environ.setdefault("SECRET_KEY", "for tests only, and long enough to be taken for a real one")
    os.environ.setdefault("PLAIN_HTTP", "1")
    if XDIST_WORKER in os.environ:
        _take_a_queue_of_ones_own(os.environ[XDIST_WORKER])
    else:
        held = ExitStack()
        early_config.add_cleanup(held.close)
        _start_servers(held)
    return (yield)


def _start_servers(held: ExitStack) -> None:
    """Start servers on the first data folder that no other run in this checkout uses."""
    for number in count(1):
        data = services.default_data("test" if number == 1 else f"test-{number}")
        try:
            held.enter_context(services.running(data, report=_tell, durable=False, share=False))
        except services.InUse:
            continue
        return


def _take_a_queue_of_ones_own(worker: str) -> None:
    """Choose another of Redis's 16 databases, so that no other worker's tasks are taken."""
    number = 1 + int(worker.removeprefix("gw")) % 15
    address = urlsplit(os.environ["REDIS_URL"])
    os.environ["REDIS_URL"] = (
        f"unix://{address.path}?db={number}"
        if address.scheme == "unix"
        else address._replace(path=f"/{number}").geturl()
    )


def _tell(sentence: str) -> None:
    sys.stderr.write(f"{sentence}\n")
