"""Clients that are signed in."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from tests.factories import PersonFactory
from tests.openings.api.clients import signed_in


@pytest.fixture
def scheduler(db: None) -> APIClient:
    return signed_in(PersonFactory(role="scheduler"))
