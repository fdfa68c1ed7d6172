#!/usr/bin/env python
"""Run a command, with what `.env` sets. Embedded servers stand in for a DATABASE_URL or REDIS_URL that is not set."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from contextlib import AbstractContextManager
from pathlib import Path

from django.core.management import execute_from_command_line

from config import environment, services

ENV_FILE = services.CHECKOUT / ".env"

# These read settings and code only, or (demo) start the servers themselves.
WITHOUT_SERVERS = {
    "check",
    "collectstatic",
    "compilemessages",
    "cut_plan",
    "demo",
    "diffsettings",
    "findstatic",
    "help",
    "makemessages",
    "spectacular",
    "startapp",
    "translations",
    "version",
}


def main(arguments: Sequence[str]) -> int:
    """Return the exit code of the command named in `arguments`."""
    environment.fill_from(ENV_FILE)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    is_demo = arguments[:1] == ["demo"]
    # Who names a database deploys, and sets the secret too.
    is_deployed = bool(os.environ.get("DATABASE_URL")) and not is_demo
    data = _data_folder(arguments if is_demo else [])
    try:
        if not is_deployed:
            os.environ.setdefault("SECRET_KEY", services.secret(data, "secret-key"))
            os.environ.setdefault("PLAIN_HTTP", "1")
        with _servers(data, arguments):
            execute_from_command_line([sys.argv[0], *arguments])
    except services.ServiceError as error:
        _tell(str(error))
        return 1
    except services.Stopped as stopped:
        return 128 + stopped.number
    return 0


def _data_folder(demo_arguments: Sequence[str]) -> Path:
    """Return the folder of the embedded servers; the demo's --data must be known before settings are read."""
    parser = argparse.ArgumentParser(add_help=False, allow_abbrev=False)
    parser.add_argument("--data", type=Path, default=services.default_data())
    known, _others = parser.parse_known_args(demo_arguments)
    data: Path = known.data
    return data


def _servers(data: Path, arguments: Sequence[str]) -> AbstractContextManager[services.Urls]:
    needs_none = not arguments or arguments[0].startswith("-") or arguments[0] in WITHOUT_SERVERS
    if needs_none or not {"-h", "--help"}.isdisjoint(arguments):
        return services.urls_for(data, report=lambda _sentence: None).exported()
    if ENV_FILE.exists() and not os.environ.get("DATABASE_URL"):
        _tell(f"Neither the environment nor {ENV_FILE} sets DATABASE_URL: the embedded database in {data} is used.")
    return services.running(data, report=_tell)


def _tell(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)  # noqa: T201 (Django is not set up yet)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
