"""docker-compose.yml: its commands, run as real processes against the embedded servers."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path
from socket import create_server
from typing import Any

import pytest
import yaml
from django.conf import settings

from config.programs import QUEUES
from config.services import CHECKOUT, Program, Supervisor

COMPOSE: dict[str, Any] = yaml.safe_load((CHECKOUT / "docker-compose.yml").read_text())
OURS = ("web", "worker", "reader", "sender", "beat")
BINARIES = Path(sys.executable).parent


@pytest.fixture
def port() -> int:
    with create_server(("127.0.0.1", 0)) as listener:
        return listener.getsockname()[1]


@pytest.fixture
def environment(child_environment: dict[str, str]) -> dict[str, str]:
    return {**child_environment, "PATH": f"{BINARIES}:{os.environ['PATH']}"}


@pytest.mark.parametrize("name", OURS)
def test_command_runs_until_its_health_check_passes(
    name: str,
    port: int,
    environment: dict[str, str],
    children: Supervisor,
    tmp_path: Path,
) -> None:
    service = COMPOSE["services"][name]
    check = [_here(word, port=port, folder=tmp_path) for word in service["healthcheck"]["test"]]

    def is_healthy() -> bool:
        return subprocess.run(_command_of(check), env=environment, cwd=CHECKOUT, check=False).returncode == 0

    children.start(
        Program(
            name=name,
            command=[_here(word, port=port, folder=tmp_path) for word in service["command"]],
            folder=CHECKOUT,
            environment=environment,
            log=tmp_path / f"{name}.log",
            is_ready=is_healthy,
        )
    )


def test_migrate_command_runs(environment: dict[str, str]) -> None:
    command = COMPOSE["services"]["migrate"]["command"]
    done = subprocess.run(command, env=environment, cwd=CHECKOUT, check=False, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


def test_install_takes_the_exact_versions() -> None:
    assert "--constraint config/constraints.txt" in " ".join(COMPOSE["services"]["install"]["command"])


@pytest.mark.parametrize("name", OURS)
def test_service_waits_for_migrations_and_broker(name: str) -> None:
    assert COMPOSE["services"][name]["depends_on"] == {
        "migrate": {"condition": "service_completed_successfully"},
        "redis": {"condition": "service_healthy"},
    }


@pytest.mark.parametrize("name", ["postgres", "redis", *OURS])
def test_lasting_service_has_a_health_check(name: str) -> None:
    assert COMPOSE["services"][name]["healthcheck"]["test"]


@pytest.mark.parametrize("name", ["postgres", "redis"])
def test_stored_data_is_in_a_named_volume(name: str) -> None:
    volumes = {volume.partition(":")[0] for volume in COMPOSE["services"][name]["volumes"]}
    assert volumes & set(COMPOSE["volumes"])


def test_every_queue_has_a_worker_of_its_own() -> None:
    commands = [" ".join(service.get("command") or []) for service in COMPOSE["services"].values()]
    assert [queue for command in commands for queue in re.findall(r"--queues=(\w+)", command)] == list(QUEUES)
    used = {settings.CELERY_TASK_DEFAULT_QUEUE, *(route["queue"] for route in settings.CELERY_TASK_ROUTES.values())}
    assert used == set(QUEUES)


def test_secrets_have_no_default() -> None:
    text = (CHECKOUT / "docker-compose.yml").read_text()
    uses = re.findall(r"\$\{((?:SECRET|\w*PASSWORD)\w*)(.*?)\}", text)
    assert {name for name, _rest in uses} == {"SECRET_KEY", "POSTGRES_PASSWORD"}
    assert all(rest.startswith(":?") for _name, rest in uses)


def test_variables_are_explained_in_the_example_file() -> None:
    used = set(re.findall(r"(?<!\$)\$\{(\w+)", (CHECKOUT / "docker-compose.yml").read_text()))
    explained = set(re.findall(r"^#?([A-Z_]+)=", (CHECKOUT / ".env.example").read_text(), re.MULTILINE))
    assert used <= explained


def _here(word: str, *, port: int, folder: Path) -> str:
    """Return a word of a container's command as it must read on this machine."""
    return word.replace(":8000", f":{port}").replace("/tmp", str(folder)).replace("$$", "$")


def _command_of(check: list[str]) -> list[str]:
    kind, *words = check
    return words if kind == "CMD" else ["/bin/sh", "-c", *words]
