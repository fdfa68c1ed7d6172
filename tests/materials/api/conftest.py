"""Who asks."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from jobs.models import Person
from tests.factories import PersonFactory
from tests.openings.api.clients import signed_in


@pytest.fixture
def client_of():
    """Return a function from a role to a client signed in with it."""

    def sign_in(role: str) -> APIClient:
        client = APIClient()
        client.force_authenticate(PersonFactory(role=role))
        return client

    return sign_in


@pytest.fixture
def warehouse(client_of) -> APIClient:
    return client_of(Person.Role.WAREHOUSE)


@pytest.fixture
def scheduler(db: None) -> APIClient:
    return signed_in(PersonFactory(role="scheduler"))
