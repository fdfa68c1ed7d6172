from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from jobs.models import Person, SiteDrive
from tests.factories import CrewFactory, JobFactory, PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def api_of():
    def signed_in(role: str) -> APIClient:
        client = APIClient()
        crew = CrewFactory() if role == Person.Role.CREW_LEAD else None
        client.force_authenticate(PersonFactory(role=role, crew=crew))
        return client

    return signed_in


def address(job) -> str:
    return f"/api/v1/jobs/{job.pk}/drives/"


def test_drives_are_entered_by_the_office_and_say_where_they_come_from(api_of):
    job, other = JobFactory(), JobFactory()
    sent = [{"job": other.pk, "minutes": 40}, {"job": None, "minutes": 15}]
    answer = api_of("scheduler").patch(address(job), sent)
    assert answer.status_code == 200
    assert [(row["job"], row["minutes"], row["is_entered"]) for row in answer.json()] == [
        (None, 15, True),
        (other.pk, 40, True),
    ]
    assert api_of("crew_lead").patch(address(job), sent).status_code == 403
    answer = api_of("scheduler").patch(address(other), [{"job": job.pk, "minutes": None}])
    assert [row["minutes"] for row in answer.json()] == [None, None]
    assert "not known" in answer.json()[0]["reason"]


@pytest.mark.parametrize(
    ("sent", "status"),
    [
        ([{"job": 999999, "minutes": 5}], 400),
        ([{"job": None, "minutes": 601}], 400),
        ([{"job": None, "minutes": -1}], 400),
        ({"job": None, "minutes": 5}, 400),
        ([{"job": None, "minuets": 5}], 400),
    ],
)
def test_what_is_no_drive_is_refused_with_nothing_entered(api_of, sent, status):
    assert api_of("scheduler").patch(address(JobFactory()), sent).status_code == status
    assert not SiteDrive.objects.exists()
