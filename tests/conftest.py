"""Fixtures that any test may ask for."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
import redis
from django.conf import settings
from django.db import connection
from django.test import override_settings

from config import programs, services


@pytest.fixture(scope="session", autouse=True)
def quick_passwords() -> Iterator[None]:
    """Hash passwords in no time: a slow hash is for those who steal the table, not for those who sign in to a test."""
    with override_settings(PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"]):
        yield


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
