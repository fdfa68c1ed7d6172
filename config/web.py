"""How the web server runs: what gunicorn reads by `--config python:config.web`. Sizes come from the environment."""

from __future__ import annotations

import resource
from contextlib import suppress
from typing import Any

from config import environment

workers = environment.whole_number("WEB_WORKERS", default=2)
threads = environment.whole_number("WEB_THREADS", default=24)
"""A thread that waits costs little: some of them are kept for what is quick, see `config.middleware.few_at_once`."""

timeout = 60
graceful_timeout = 30

# A worker ends after so many requests, and not all at once, so that what leaks does not pile up.
max_requests = environment.whole_number("WEB_REQUESTS", default=5_000)
max_requests_jitter = max_requests // 5

control_socket_disable = True

MEMORY_MB = environment.whole_number("WEB_MEMORY_MB", default=3_000)
"""Of address space, of which threads take much without using it (measured: 1.4 GB with 20 of them, 0.14 GB used)."""


def post_fork(_server: Any, _worker: Any) -> None:
    """Bound the memory of a worker: what asks for more is refused alone, and the machine goes on."""
    if MEMORY_MB:
        _soft, hard = resource.getrlimit(resource.RLIMIT_AS)
        with suppress(ValueError, OSError):  # some systems know the limit and refuse to set it
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY_MB * 10**6, hard))
