from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from jobs.errors import DayIsPast, DayOff, NotFound
from jobs.models import CrewDay
from materials import services
from materials.errors import NothingAssigned
from materials.models import PullSheet
from openings.models import Assignment
from tests.factories import CrewFactory, tomorrow
from tests.materials.at_once import at_once
from tests.materials.crew_days import make_crew_day, request, written


@pytest.mark.django_db
def test_asking_twice_makes_one_sheet():
    crew_day = make_crew_day()
    assert request(crew_day) == request(crew_day)
    sheet = PullSheet.objects.get()
    assert (sheet.revision, sheet.state) == (1, "pending")


@pytest.mark.django_db(transaction=True)
def test_four_who_ask_at_once_make_one_sheet():
    crew_day = make_crew_day()
    sheets = at_once(*[lambda: request(crew_day)] * 4)
    assert set(sheets) == {PullSheet.objects.get()}


@pytest.mark.django_db(transaction=True)
def test_four_who_ask_at_once_after_a_change_make_one_new_revision():
    crew_day = make_crew_day()
    written(crew_day)
    make_crew_day(crew=crew_day.crew)
    at_once(*[lambda: request(crew_day)] * 4)
    assert list(PullSheet.objects.values_list("revision", "state")) == [(2, "pending"), (1, "written")]


@pytest.mark.django_db
def test_an_unchanged_day_keeps_its_revision():
    crew_day = make_crew_day(openings=3)
    sheet = written(crew_day)
    assert request(crew_day) == sheet
    assert PullSheet.objects.count() == 1


@pytest.mark.django_db
def test_a_day_with_nothing_assigned_has_no_sheet():
    crew = CrewFactory(name="Alder")
    with pytest.raises(
        NothingAssigned, match=f"nothing that can be set is assigned to Alder on {tomorrow():%a, %b} {tomorrow().day}"
    ):
        services.request_pull_sheet(crew_id=crew.pk, on=tomorrow(), by=None)
    assert not PullSheet.objects.exists()


@pytest.mark.django_db
def test_a_sheet_that_failed_for_want_of_openings_is_not_asked_for_again_and_again():
    crew_day = make_crew_day()
    sheet = request(crew_day)
    Assignment.objects.update(withdrawn_at=timezone.now())
    services.write_pull_sheet(sheet_id=sheet.pk)
    sheet.refresh_from_db()
    assert (sheet.state, sheet.failure) == ("failed", "nothing is assigned to this day any more")
    with pytest.raises(NothingAssigned):
        request(crew_day)
    make_crew_day(crew=crew_day.crew)
    assert written(crew_day).revision == 2


@pytest.mark.django_db
def test_a_day_past_everywhere_has_no_sheet():
    past = timezone.now().date() - timedelta(days=2)
    crew_day = make_crew_day(on=past)
    with pytest.raises(DayIsPast, match="is past: give a day from today"):
        request(crew_day)


@pytest.mark.django_db
def test_a_day_off_has_no_sheet():
    crew_day = make_crew_day()
    CrewDay.objects.update(off_reason="storm", capacity_person_h=0)
    with pytest.raises(DayOff, match="storm"):
        request(crew_day)


@pytest.mark.django_db
@pytest.mark.parametrize("crew_id", [10**6, 10**30], ids=["unknown", "beyond any number"])
def test_a_crew_that_there_is_not_has_no_sheet(crew_id):
    with pytest.raises(NotFound):
        services.request_pull_sheet(crew_id=crew_id, on=tomorrow(), by=None)
