"""The horizon of a date, wherever one enters."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from jobs import services
from jobs.calc.horizon import COMING, PAST, PLAN
from jobs.dates import Within, day_beside, require_within
from jobs.errors import DayIsPast, DayOutOfReach
from tests.factories import CrewFactory, JobFactory, tomorrow

FAR = date(9999, 12, 31)


def test_a_date_that_is_within_reach_somewhere_on_earth_passes_at_the_edge():
    for days in (-1, 0, 1):  # UTC-12 is at most a day behind UTC, UTC+14 at most a day ahead
        if days <= 0:
            Within(PLAN)(tomorrow(days))
    Within(PAST)(tomorrow(0))
    Within(COMING)(tomorrow(0))
    for horizon, on in ((PAST, tomorrow(2)), (COMING, tomorrow(-2)), (PLAN, FAR), (PLAN, date.min)):
        with pytest.raises(ValidationError, match="give a day from"):
            Within(horizon)(on)


@pytest.mark.parametrize(
    ("horizon", "on", "error"),
    [(COMING, date(2027, 3, 18), DayIsPast), (COMING, FAR, DayOutOfReach), (PAST, date(2027, 3, 20), DayOutOfReach)],
)
def test_a_service_names_field_value_and_range(horizon, on, error):
    with pytest.raises(DayOutOfReach) as raised:
        require_within(horizon, on, today=date(2027, 3, 19), field="worked_on")
    assert type(raised.value) is error
    (fault,) = raised.value.faults
    assert (fault.field, fault.value) == ("worked_on", on.isoformat())
    assert "give a day from" in fault.detail


def test_no_page_leads_beyond_the_horizon():
    today = timezone.now().date()
    assert day_beside(today, 7) == today + timedelta(days=7)
    assert day_beside(PLAN.last(today), 1) is None
    assert day_beside(PLAN.first(today), -1) is None


@pytest.mark.django_db
def test_a_crew_has_no_day_beyond_the_horizon():
    crew = CrewFactory()
    for on in (FAR, date.min, tomorrow(3 * 366)):
        with pytest.raises(DayOutOfReach):
            services.lock_crew_day(crew_id=crew.pk, on=on)
    assert not crew.days.exists()


@pytest.mark.django_db
def test_a_row_with_a_date_from_long_ago_can_be_changed_in_what_else_it_says():
    job = JobFactory(starts_on=date(2009, 6, 1))
    assert services.change(job, name="Weir House").name == "Weir House"
    with pytest.raises(ValidationError, match="too far back"):
        services.change(job, starts_on=date(2009, 6, 2))
