from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from django.contrib.auth import authenticate

from config import demo_content
from jobs.models import Crew, CrewDay, Job, Person
from materials.models import DetailProduct, Lot, Movement, Product
from materials.queries import on_hand
from openings.models import Assignment, Hold, InstallationDetail, InstallRecord, Opening, WindowSchedule

pytestmark = pytest.mark.django_db

TABLES = [
    Assignment, Crew, CrewDay, DetailProduct, Hold, InstallRecord, InstallationDetail, Job, Lot, Movement, Opening,
    Person, Product, WindowSchedule,
]  # fmt: skip


def load() -> dict:
    return demo_content.load(report=lambda _sentence: None)


def rows() -> dict[str, int]:
    return {table.__name__: table.objects.count() for table in TABLES}


def test_the_demo_has_three_jobs_four_crews_and_150_openings_and_loads_once():
    first = load()
    counted = rows()
    assert first["counts"]["jobs"] >= 3
    assert first["counts"]["crews"] == 4
    assert first["counts"]["openings"] >= 150
    assert load() == first
    assert rows() == counted


def test_every_role_can_sign_in():
    logins = load()["logins"]
    assert set(logins) == set(Person.Role.values)
    for role, login in logins.items():
        assert authenticate(**login).role == role


def test_each_jobs_openings_came_from_its_schedule_file():
    load()
    schedules = WindowSchedule.objects.all()
    assert {schedule.filename.rpartition(".")[2] for schedule in schedules} == {"xlsx", "csv"}
    assert {schedule.job_id for schedule in schedules} == set(Job.objects.values_list("pk", flat=True))
    assert not Opening.objects.filter(schedule=None).exists()


def test_every_crew_has_work_on_the_next_days():
    load()
    assert set(
        CrewDay.objects.filter(pk__in=Assignment.objects.values("crew_day")).values_list("crew", flat=True)
    ) == set(Crew.objects.values_list("pk", flat=True))


def test_rows_that_were_loaded_would_pass_as_entered():
    load()
    for table in (Crew, Job, Product, DetailProduct, InstallationDetail, Opening):
        for row in table.objects.all():
            row.full_clean()


def test_stock_lies_in_the_warehouse():
    load()
    assert {entry["place"].kind for entry in on_hand()} == {"warehouse"}
    assert all(entry["packages"] > 0 for entry in on_hand())


def test_the_demo_loads_while_utc_is_a_day_ahead_of_the_sites(monkeypatch):
    # 02:00 UTC on Wednesday is 19:00 on Tuesday in Denver (IANA: UTC−7 before March 14, 2027).
    monkeypatch.setattr("django.utils.timezone.now", lambda: datetime(2027, 3, 10, 2, tzinfo=UTC))
    load()
    assert set(InstallRecord.objects.values_list("hours__on", flat=True)) == {date(2027, 3, 9)}
