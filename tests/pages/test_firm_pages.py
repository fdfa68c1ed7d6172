"""The office enters the firm, its calendar, jobs, crews and forecasts on pages, and what is wrong is said there."""

from __future__ import annotations

from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from jobs.models import Company, CompanyDay, Crew, Job, SiteForecast
from tests.factories import CrewFactory, JobFactory, make_openings, tomorrow
from tests.openings.rows import make_assigned
from tests.pages.html import html_of
from tests.pages.test_questions import question_in, sent_again

COMPANY = {"name": "Weir Windows", "us_state": "CO", "time_zone": "America/Chicago", "default_cutoff": "15:30"}
COMPANY |= {"default_shift_h": "9", "yard_address": "1 Weir Lane", "road_factor": "1.3", "drive_mph": "30"}
JOB = {"name": "Weir Cottage", "code": "weir", "address": "2 Weir Lane", "cutoff": "14:00", "time_zone": "UTC"}
CREW = {"name": "Alder", "truck": "Truck 1", "people_count": "3", "shift_h": "8", "weekdays": ["5", "1", "2", "3", "4"]}
CREW |= {"experience": "professional", "payload_lb": "3500", "skills": "boom lift, lead-safe work"}
FORECAST = {"on": "", "low_f": "30", "high_f": "41.5", "wind_mph": "25", "rain_in": "0.2"}


def post(client: Client, page: str, act: str, values: dict[str, Any], *args: int, follow: bool = True) -> HttpResponse:
    return client.post(reverse(page, args=args), values | {"act": act}, follow=follow)


def test_a_company_is_entered_and_a_new_job_begins_as_it_does(scheduler: Client):
    assert "Weir Windows is saved" in html_of(post(scheduler, "company-page", "save", COMPANY))
    assert Company.objects.get().default_shift_h == 9
    page = html_of(scheduler.get(reverse("job-new-page")))
    assert 'value="15:30"' in page
    assert '<option value="America/Chicago" selected>' in page
    assert 'value="9"' in html_of(scheduler.get(reverse("crew-new-page")))


def test_a_job_is_added_changed_closed_and_archived(scheduler: Client):
    added = post(scheduler, "job-new-page", "add", JOB)
    job = Job.objects.get()
    assert added.redirect_chain[-1][0].startswith(reverse("job-page", args=[job.pk]))
    assert "Next: upload its window schedule" in html_of(added)
    changed = post(scheduler, "job-edit-page", "save", JOB | {"gate_note": "code 12", "contact_name": "Ann"}, job.pk)
    assert changed.status_code == 200
    assert "code 12" in html_of(scheduler.get(reverse("job-page", args=[job.pk])))
    assert "is closed" in html_of(post(scheduler, "job-edit-page", "close", {}, job.pk))
    assert "is archived" in html_of(post(scheduler, "job-edit-page", "archive", {}, job.pk))
    assert "Weir Cottage" not in html_of(scheduler.get(reverse("jobs-page")))
    assert "Weir Cottage" in html_of(scheduler.get(f"{reverse('jobs-page')}?show=archived"))
    assert "is open again" in html_of(post(scheduler, "job-edit-page", "reopen", {}, job.pk))


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ({"starts_on": tomorrow(9), "promised_on": tomorrow(8)}, "this is before the job starts"),
        ({"latitude": "39.7"}, "latitude and longitude go together"),
        ({"latitude": "95", "longitude": "1"}, "this must be 90 or less"),
        ({"code": "weir cottage"}, "letters, digits and hyphens"),
        ({"time_zone": "Mars/Olympus"}, "not one of the choices"),
        ({"cutoff": "25:00"}, "not a time of day"),
    ],
    ids=lambda value: "" if isinstance(value, str) else "+".join(value),
)
def test_a_job_with_something_wrong_is_not_added_and_says_what(scheduler: Client, wrong, why):
    refused = post(scheduler, "job-new-page", "add", JOB | wrong)
    assert refused.status_code == 400
    assert why in html_of(refused)
    assert not Job.objects.exists()


def test_a_job_promised_on_a_holiday_is_saved_with_a_warning(scheduler: Client):
    post(scheduler, "company-page", "save", COMPANY)
    christmas = tomorrow().replace(
        month=12, day=25, year=tomorrow().year + (tomorrow() > tomorrow().replace(month=12, day=25))
    )
    said = html_of(post(scheduler, "job-new-page", "add", JOB | {"promised_on": christmas}))
    assert "is Christmas Day, a public holiday" in said
    assert "is Christmas Day" in html_of(scheduler.get(reverse("job-edit-page", args=[Job.objects.get().pk])))


def test_a_crew_is_added_and_its_truck_is_its_own(scheduler: Client):
    post(scheduler, "crew-new-page", "add", CREW)
    crew = Crew.objects.get()
    assert (crew.weekdays, crew.skills, crew.payload_lb) == ("12345", ["boom lift", "lead-safe work"], 3500)
    refused = post(scheduler, "crew-new-page", "add", CREW | {"name": "Birch"})
    assert refused.status_code == 409
    assert "give each crew a truck of its own" in html_of(refused)
    page = html_of(scheduler.get(reverse("crews-page")))
    for fact in ("Alder", "Mon to Fri", "3500 lb", "boom lift, lead-safe work"):
        assert fact in page


def test_days_off_that_strand_openings_ask_first_and_can_be_taken_back(scheduler: Client):
    crew = CrewFactory(people_count=20)
    make_assigned(crew=crew)
    days = {"first": tomorrow(), "last": tomorrow(2), "off_reason": "vacation"}
    asked = post(scheduler, "crew-page", "set_off", days, crew.pk, follow=False)
    assert "leaves 1 opening without a crew" in question_in(asked)
    assert not crew.days.filter(off_reason="vacation").exists()
    done = scheduler.post(reverse("crew-page", args=[crew.pk]), sent_again(asked) | {"sure": "yes"}, follow=True)
    assert "1 opening to move, see the crew board" in html_of(done)
    assert crew.days.filter(off_reason="vacation").count() == 2
    again = post(scheduler, "crew-page", "set_off", days, crew.pk)
    assert again.status_code == 409
    assert "is off already on" in html_of(again)
    post(scheduler, "crew-page", "work", {"day": crew.days.get(on=tomorrow()).pk}, crew.pk)
    assert crew.days.get(on=tomorrow()).capacity_person_h == 160


def test_a_crew_with_work_is_not_retired_and_the_days_are_named(scheduler: Client):
    crew = CrewFactory(people_count=20)
    make_assigned(crew=crew)
    refused = post(scheduler, "crew-page", "retire", {}, crew.pk)
    assert refused.status_code == 409
    assert f"has openings assigned for {tomorrow():%a}" in html_of(refused)
    idle = CrewFactory()
    assert "is retired" in html_of(post(scheduler, "crew-page", "retire", {}, idle.pk))
    assert "in service again" in html_of(post(scheduler, "crew-page", "put_back", {}, idle.pk))


def test_a_holiday_is_confirmed_where_it_is_listed(scheduler: Client):
    post(scheduler, "company-page", "save", COMPANY)
    year = tomorrow().year + 1
    page = f"{reverse('calendar-page')}?year={year}"
    assert "Independence Day" in html_of(scheduler.get(page))
    day = {"act": "confirm", "on": f"{year}-07-04", "name": "Independence Day", "at": "day-0704"}
    assert "Independence Day" in html_of(scheduler.post(page, day | {"works": "off"}, follow=True))
    assert CompanyDay.objects.get().is_off
    scheduler.post(page, day | {"works": "as usual"})
    assert CompanyDay.objects.get().shift_h is None
    part = scheduler.post(page, day | {"works": "part"})
    assert "give the hours that are worked" in html_of(part)
    scheduler.post(page, {"act": "unset", "day": CompanyDay.objects.get().pk})
    assert not CompanyDay.objects.exists()


def test_a_company_day_that_strands_openings_asks_first(scheduler: Client):
    make_assigned()
    day = {"on": tomorrow(), "name": "inventory", "works": "off"}
    asked = post(scheduler, "calendar-page", "confirm", day, follow=False)
    assert "1 opening would be without a crew on" in question_in(asked)
    assert not CompanyDay.objects.exists()
    scheduler.post(reverse("calendar-page"), sent_again(asked) | {"sure": "yes"})
    assert CompanyDay.objects.get().is_off


def test_a_forecast_is_entered_replaced_and_held_against_the_limits(scheduler: Client):
    job = JobFactory()
    values = FORECAST | {"job": job.pk, "on": tomorrow()}
    page = html_of(post(scheduler, "forecasts-page", "enter", values))
    assert "30 to 41.5 °F" in page
    assert page.count("above the limit") == 2  # company default: 20 mph of wind, 0.1 in. of rain
    post(scheduler, "forecasts-page", "enter", values | {"wind_mph": "5"})
    assert SiteForecast.objects.get().wind_mph == 5
    listed = scheduler.get(f"{reverse('forecasts-page')}?change={SiteForecast.objects.get().pk}")
    assert 'value="41.5"' in html_of(listed)


def test_a_forecast_is_entered_for_every_open_job_at_once(scheduler: Client):
    sites = {JobFactory(), JobFactory()}
    JobFactory(closed_at=timezone.now())
    page = html_of(post(scheduler, "forecasts-page", "enter", FORECAST | {"every_job": "on", "on": tomorrow()}))
    assert "The forecast of 2 jobs for" in page
    assert {forecast.job for forecast in SiteForecast.objects.all()} == sites


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ({"job": "999999"}, "no such open job"),
        ({"job": ""}, "choose one job, or every open job"),
        ({"every_job": "on"}, "choose one job, or every open job"),
        ({"low_f": "50"}, "the low is above the high"),
    ],
)
def test_a_forecast_for_no_job_or_turned_round_is_refused(scheduler: Client, wrong, why):
    refused = post(scheduler, "forecasts-page", "enter", FORECAST | {"job": JobFactory().pk, "on": tomorrow()} | wrong)
    assert refused.status_code == 400
    assert why in html_of(refused)


def test_limits_of_the_weather_are_set_with_their_source_and_reset(scheduler: Client):
    limits = {"most_wind_mph": "18", "wind_source": "safety plan", "most_rain_in": "0.2", "rain_source": "the maker"}
    assert "are saved" in html_of(post(scheduler, "weather-limits-page", "set_limits", limits))
    shown = html_of(scheduler.get(reverse("weather-limits-page")))
    assert "safety plan" in shown
    assert 'value="0.2"' in shown
    refused = post(scheduler, "weather-limits-page", "set_limits", limits | {"wind_source": ""})
    assert refused.status_code == 400
    post(scheduler, "weather-limits-page", "reset", {})
    assert "common practice, no source" in html_of(scheduler.get(reverse("weather-limits-page")))


@pytest.mark.parametrize(
    ("page", "act"),
    [("company-page", "save"), ("job-new-page", "add"), ("crew-new-page", "add"), ("calendar-page", "unset")],
)
def test_only_the_office_writes_them(warehouse: Client, page, act):
    assert warehouse.get(reverse(page)).status_code == 200
    assert post(warehouse, page, act, {}).status_code == 403


@pytest.mark.parametrize("size", [1, 12])
def test_crews_take_as_many_queries_however_many(scheduler: Client, size, django_assert_num_queries):
    CrewFactory.create_batch(size)
    make_openings(size)
    with django_assert_num_queries(3):  # session, person; the crews
        scheduler.get(reverse("crews-page"))
