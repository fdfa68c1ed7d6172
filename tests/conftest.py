"""Fixtures that any test may ask for."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
import redis
from django.conf import settings
from django.core.signals import request_finished, request_started
from django.db import close_old_connections, connection, connections
from django.test import override_settings
from drf_spectacular.generators import SchemaGenerator
from drf_spectacular.renderers import OpenApiJsonRenderer

from config import programs, services
from config.wsgi import application


@pytest.fixture(scope="session", autouse=True)
def quick_passwords() -> Iterator[None]:
    """Hash passwords in no time: a slow hash is for those who steal the table, not for those who sign in to a test."""
    with override_settings(PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"]):
        yield


@pytest.fixture(scope="session")
def document() -> dict[str, Any]:
    """The OpenAPI document as clients read it: what Python has as Decimal is a number there."""
    generated: dict[str, Any] = json.loads(OpenApiJsonRenderer().render(SchemaGenerator().get_schema(public=True)))
    return generated


@pytest.fixture
def service(db: None) -> Iterator[Callable[..., Any]]:
    """The service as it answers other threads on the connection of this test, whose rows are not committed."""
    shared = connections["default"]
    ends = (request_started, request_finished)  # of a request, when Django would close it
    for end in ends:
        end.disconnect(close_old_connections)
    shared.inc_thread_sharing()

    def answer(environ: dict[str, Any], start_response: Any) -> Any:
        connections["default"] = shared
        return application(environ, start_response)

    yield answer
    shared.dec_thread_sharing()
    for end in ends:
        end.connect(close_old_connections)


@pytest.fixture
def children() -> Iterator[services.Supervisor]:
    """Start programs through it; they are stopped after the test."""
    with services.Supervisor(stop=services.StopSignals(), report=lambda _sentence: None) as supervisor:
        yield supervisor


@pytest.fixture
def child_environment(transactional_db: None) -> dict[str, str]:
    """The environment of a child program that shares this test's database and broker."""
    url = urlsplit(os.environ["DATABASE_URL"])._replace(path=f"/{connection.settings_dict['NAME']}")
    return {**os.environ, "DATABASE_URL": url.geturl(), "DJANGO_SETTINGS_MODULE": "config.settings"}


@pytest.fixture
def empty_broker() -> redis.Redis:
    """The broker, without what earlier tests left in it."""
    broker = redis.Redis.from_url(settings.REDIS_URL)
    broker.flushdb()
    return broker


@pytest.fixture
def live_worker(
    children: services.Supervisor,
    child_environment: dict[str, str],
    empty_broker: redis.Redis,
    tmp_path: Path,
) -> None:
    """Real worker processes on this test's database; the test commits what they shall see."""
    children.start(*programs.workers(logs=tmp_path, environment=child_environment))
