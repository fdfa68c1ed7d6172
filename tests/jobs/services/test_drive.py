from __future__ import annotations

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from jobs.errors import BadInput, NotFound
from jobs.models import Company, SiteDrive
from jobs.queries import YARD, drives_among, drives_from
from jobs.services import enter_drives
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db

MERIDIAN = Decimal(-105)


def test_minutes_are_the_same_both_ways_and_are_entered_once():
    one, other = JobFactory(), JobFactory()
    enter_drives(site_id=other.pk, minutes={one.pk: 25})
    enter_drives(site_id=one.pk, minutes={other.pk: 35})
    assert SiteDrive.objects.get().minutes == 35
    known = drives_among([one.pk, other.pk])
    assert known.between(one.pk, other.pk) == known.between(other.pk, one.pk)


def test_what_is_taken_back_is_worked_out_from_where_the_sites_lie():
    # A tenth of a degree of a meridian is 6 nautical miles, 6.9 mi (ICAO Annex 5: 1,852 m each); 9 mi of road.
    one = JobFactory(latitude=Decimal(40), longitude=MERIDIAN)
    other = JobFactory(latitude=Decimal("40.1"), longitude=MERIDIAN)
    enter_drives(site_id=one.pk, minutes={other.pk: 25})
    enter_drives(site_id=one.pk, minutes={other.pk: None})
    drive = drives_among([one.pk, other.pk]).between(one.pk, other.pk)
    assert (drive.minutes, drive.is_entered) == (18, False)
    assert drive.reason == "6.9 mi in a straight line × 1.3 for the road = 9.0 mi, at 30 mph: 18 min"


def test_the_yard_is_a_place_like_any_other_and_the_firm_says_how_fast_its_trucks_are():
    Company.objects.create(
        pk=1,
        name="Larkspur Windows",
        us_state="CO",
        yard_latitude=Decimal(40),
        yard_longitude=MERIDIAN,
        road_factor=Decimal(1),
        drive_mph=Decimal(60),
    )
    job = JobFactory(latitude=Decimal("40.1"), longitude=MERIDIAN)
    nowhere = JobFactory()
    yard, other = drives_from(job)
    assert (yard.job_id, yard.drive.minutes) == (YARD, 7)
    assert (other.job_id, other.drive) == (nowhere.pk, None)


def test_a_day_with_an_unknown_drive_counts_what_is_known_of_it():
    jobs = [JobFactory() for _ in range(3)]
    enter_drives(site_id=jobs[0].pk, minutes={jobs[1].pk: 30})
    route = drives_among([job.pk for job in jobs]).route([job.pk for job in jobs])
    assert (route.minutes, route.is_known) == (30, False)
    assert route.person_h(3) == Decimal("1.50")


def test_drives_that_lead_nowhere_are_refused():
    job = JobFactory()
    with pytest.raises(BadInput, match="another site"):
        enter_drives(site_id=job.pk, minutes={job.pk: 5})
    with pytest.raises(NotFound, match="there is no job"):
        enter_drives(site_id=job.pk, minutes={job.pk + 1000: 5})
    with pytest.raises(ValidationError):
        enter_drives(site_id=job.pk, minutes={None: 601})
    with pytest.raises(IntegrityError), transaction.atomic():
        SiteDrive.objects.create(site=job, other=job, minutes=5)


@pytest.mark.parametrize("count", [1, 12])
def test_drives_of_a_site_take_four_queries_however_many_sites(django_assert_num_queries, count):
    job = JobFactory()
    JobFactory.create_batch(count)
    with django_assert_num_queries(4):
        assert len(drives_from(job)) == count + 1
