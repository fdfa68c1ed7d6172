from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from django.contrib.auth import authenticate
from django.db import connection

from config import demo_content, demo_database, services
from jobs.models import Company, CompanyDay, Crew, CrewDay, Job, Person, SiteForecast
from jobs.queries import today_on_sites
from materials.models import DetailProduct, Lot, Movement, Product
from materials.queries import on_hand
from openings.models import (
    Assignment,
    Delivery,
    Hold,
    InstallationDetail,
    InstallRecord,
    Opening,
    TradeBefore,
    Unit,
    WindowSchedule,
)
from openings.services import withdraw
from tests.factories import JobFactory, PersonFactory

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


def test_a_day_that_a_person_emptied_stays_empty_at_the_next_start():
    load()
    scheduler = Person.objects.get(username="tamsin")
    for assignment in Assignment.objects.filter(opening__install_record__isnull=True):
        withdraw(assignment_id=assignment.pk, by=scheduler)
    left = set(Assignment.objects.filter(withdrawn_at__isnull=True).values_list("pk", flat=True))
    load()
    assert set(Assignment.objects.filter(withdrawn_at__isnull=True).values_list("pk", flat=True)) == left


def test_a_crew_that_somebody_added_changes_nothing_at_the_next_start():
    load()
    Crew.objects.create(name="Elm", truck="Truck 5", people_count=2)
    counted = rows()
    assert load()["counts"]["crews"] == 5
    assert rows() == counted


def test_a_password_that_somebody_changed_stays_and_is_not_told():
    load()
    owner = Person.objects.get(username="ondine")
    owner.set_password("sash weight and pulley")
    owner.save()
    assert Person.Role.OWNER not in load()["logins"]
    assert authenticate(username="ondine", password="sash weight and pulley") == owner


@pytest.mark.parametrize("enter", [JobFactory, PersonFactory], ids=["a job", "a person"])
def test_a_firms_own_database_is_refused_and_nothing_is_added(enter):
    enter()
    counted = rows()
    with pytest.raises(services.ServiceError, match=r"1 (job|person).* that the demo did not put there"):
        load()
    assert rows() == counted


def test_a_database_of_another_program_is_refused():
    with connection.cursor() as cursor:
        cursor.execute("CREATE TABLE ledger (id int)")
    with pytest.raises(services.ServiceError, match="1 table of another program"):
        demo_database.require_empty_or_own()


def test_a_load_that_broke_off_leaves_an_empty_database(monkeypatch):
    def break_off(**_options):
        raise KeyboardInterrupt

    before = rows()
    monkeypatch.setattr(demo_content, "_record_a_morning", break_off)
    with pytest.raises(KeyboardInterrupt):
        load()
    assert rows() == before
    monkeypatch.undo()
    assert load()["counts"]["jobs"] == 3


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
    for table in (Crew, Job, Product, DetailProduct, InstallationDetail, Opening, Company, TradeBefore, Delivery):
        for row in table.objects.all():
            row.full_clean()


def test_the_office_finds_something_late_something_damaged_and_days_that_are_otherwise():
    load()
    today = today_on_sites()
    assert Delivery.objects.late(today).count() == 1
    assert Unit.objects.current().get(condition="damaged").opening.mark == "2E-04"
    assert set(Hold.objects.open().of_rules().values_list("rule", flat=True)) == {"unit", "trade"}
    assert not Job.objects.filter(latitude=None).exists()
    assert SiteForecast.objects.values("job").distinct().count() == Job.objects.count()
    assert CompanyDay.objects.get().on > today
    assert CrewDay.objects.filter(on__gt=today).exclude(off_reason="").exists()


def test_stock_lies_in_the_warehouse():
    load()
    assert {entry["place"].kind for entry in on_hand()} == {"warehouse"}
    assert all(entry["packages"] > 0 for entry in on_hand())


def test_the_demo_loads_while_utc_is_a_day_ahead_of_the_sites(monkeypatch):
    # 02:00 UTC on Wednesday is 19:00 on Tuesday in Denver (IANA: UTC−7 before March 14, 2027).
    monkeypatch.setattr("django.utils.timezone.now", lambda: datetime(2027, 3, 10, 2, tzinfo=UTC))
    load()
    assert set(InstallRecord.objects.values_list("hours__on", flat=True)) == {date(2027, 3, 9)}
