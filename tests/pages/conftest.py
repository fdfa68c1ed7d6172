"""People who are signed in, and a real browser."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.test import Client
from selenium.webdriver import Chrome, ChromeOptions
from selenium.webdriver.chrome.service import Service

from jobs.models import Person
from tests.pages.people import signed_in

PHONE_PX = (360, 740)
DESK_PX = (1280, 900)

FLAGS = (
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.fixture
def scheduler(db: None) -> Client:
    return signed_in(Person.Role.SCHEDULER)


@pytest.fixture
def warehouse(db: None) -> Client:
    return signed_in(Person.Role.WAREHOUSE)


@pytest.fixture
def owner(db: None) -> Client:
    return signed_in(Person.Role.OWNER)


@pytest.fixture(params=[DESK_PX, PHONE_PX], ids=["desk", "phone"])
def browser(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Chrome]:
    """A real Chromium, as wide as a desk's screen and as a phone's."""
    width, height = request.param
    with _chromium(tmp_path, width=width, height=height) as driver:
        yield driver


@pytest.fixture
def phone(tmp_path: Path) -> Iterator[Chrome]:
    """A real Chromium, as wide as a small phone."""
    width, height = PHONE_PX
    with _chromium(tmp_path, width=width, height=height) as driver:
        yield driver


@pytest.fixture(scope="module")
def any_browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    """One real Chromium for many tests, each of which says how large its screen is."""
    with _chromium(tmp_path_factory.mktemp("chromium")) as driver:
        yield driver


def _chromium(tmp_path: Path, *, width: int = 0, height: int = 0) -> Chrome:
    binary = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    driver = shutil.which("chromedriver")
    if not binary or not driver:
        _miss("Chromium and its driver are not installed (Debian: packages chromium and chromium-driver)")
    options = ChromeOptions()
    options.binary_location = binary
    for flag in (*FLAGS, f"--user-data-dir={tmp_path / 'profile'}"):
        options.add_argument(flag)
    if width:
        size = {"width": width, "height": height, "pixelRatio": 1}
        options.add_experimental_option("mobileEmulation", {"deviceMetrics": size})
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    return Chrome(options=options, service=Service(driver))


def _miss(reason: str) -> None:
    if os.environ.get("CI"):
        pytest.fail(reason)
    pytest.skip(reason)
