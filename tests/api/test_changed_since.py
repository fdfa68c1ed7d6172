"""`updated_at` and `?changed_since=`: who keeps a copy of a list misses nothing, whoever wrote and however."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from threading import Event

import pytest
from django.apps import apps
from django.db import connection, connections, transaction
from django.urls import get_resolver
from django.utils import timezone
from rest_framework.settings import api_settings

from jobs.changed_since import ChangedSince
from jobs.models import Crew, Job, SiteDrive
from jobs.resource import Readable
from materials.models import PullSheetLine
from openings.models import Hold, InstallRecord, Opening
from tests.api.writes import caller
from tests.factories import CrewFactory, JobFactory, make_openings, tomorrow
from tests.materials.rolls import load, make_sheet, make_strip
from tests.openings.api.clients import API, problem_of
from tests.openings.rows import make_assigned, schedule_of, start, take

BEGINNING = "1970-01-01T00:00:00Z"
LISTS = {
    str(pattern.pattern).removeprefix("^").partition("/")[0]: pattern.callback.cls
    for resolver in get_resolver().url_patterns
    if str(resolver.pattern) == "api/v1/"
    for pattern in resolver.url_patterns
    if issubclass(getattr(pattern.callback, "cls", object), Readable)
}
READ_WITH_A_JOB = {SiteDrive}
"""What no list shows: the drives from one site stand beside each other, entered or worked out."""
MODELS = {noun: view.queryset.model for noun, view in LISTS.items()}


def test_the_lists_are_those_of_the_service():
    assert {"jobs", "crews", "openings", "assignments", "movements", "pull-sheets", "schedule-layouts"} <= LISTS.keys()
    assert len(LISTS) == 34


@pytest.mark.parametrize("noun", LISTS)
def test_every_list_shows_when_its_rows_changed_and_is_asked_by_that(noun):
    view = LISTS[noun]
    assert ChangedSince in view.filter_backends
    assert set(api_settings.DEFAULT_FILTER_BACKENDS) <= set(view.filter_backends)
    for serializer in {view.serializer_class, view(action="list").get_serializer_class()}:
        field = serializer().fields["updated_at"]
        assert field.read_only


@pytest.mark.django_db
@pytest.mark.parametrize("noun", MODELS)
def test_every_listed_table_keeps_it_and_finds_by_it(noun):
    table = MODELS[noun]._meta.db_table
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT tgname FROM pg_trigger JOIN pg_proc ON pg_proc.oid = tgfoid WHERE tgrelid = %s::regclass "
            "AND proname = 'says_when_it_changed'",
            [table],
        )
        assert {name for (name,) in cursor.fetchall()} == {"says_when_it_was_added", "says_when_it_changed"}
        cursor.execute("SET LOCAL enable_seqscan = off")
        found = MODELS[noun].objects.filter(updated_at__gte=timezone.now()).order_by("updated_at", "pk")
        assert f"{table}_updated_at" in found.explain()


def test_no_other_table_says_when_it_changed():
    floors = [apps.get_app_config(floor) for floor in ("jobs", "openings", "materials")]
    saying = {m for floor in floors for m in floor.get_models() if "updated_at" in {f.name for f in m._meta.fields}}
    assert saying == set(MODELS.values()) | READ_WITH_A_JOB


def changed_at(row) -> datetime:
    return type(row)._base_manager.values_list("updated_at", flat=True).get(pk=row.pk)


def by_hand(row) -> None:
    with connection.cursor() as cursor:
        cursor.execute("UPDATE jobs_crew SET truck = 'T9', updated_at = '2001-01-01Z' WHERE id = %s", [row.pk])


@pytest.mark.django_db
@pytest.mark.parametrize(
    "change",
    [
        lambda crew: Crew.objects.update(truck="T9"),
        lambda crew: Crew.objects.update(updated_at="2001-01-01T00:00:00Z"),
        lambda crew: Crew.objects.bulk_update([Crew(pk=crew.pk, truck="T9")], ["truck"]),
        lambda crew: Crew.objects.filter(pk=crew.pk).update(updated_at="2101-01-01T00:00:00Z"),
        by_hand,
    ],
    ids=["update", "update that lies", "in bulk", "update that runs ahead", "by hand"],
)
def test_whoever_changes_a_row_it_says_when(change):
    crew = CrewFactory(truck="T1")
    before = changed_at(crew)
    change(crew)
    assert before < changed_at(crew) < datetime.now(UTC) + timedelta(minutes=1)


@pytest.mark.django_db
def test_rows_added_in_bulk_and_by_copy_say_when():
    before = datetime.now(UTC) - timedelta(minutes=1)
    Job.objects.bulk_create(
        Job(code=f"j-{n}", name="Weir Cottage", address="2 Weir Lane", updated_at="2001-01-01T00:00:00Z")
        for n in range(3)
    )
    (opening,) = make_openings(1)
    take(opening.job, schedule_of("W7,3,36,54,"))
    for rows in (Job.objects.all(), Opening.objects.filter(job=opening.job)):
        said = list(rows.values_list("updated_at", flat=True))
        assert len(set(said)) == len(said) > 2
        assert all(before < at for at in said)


@pytest.mark.django_db
def test_it_never_goes_back_though_the_clock_does():
    crew, ahead = CrewFactory(), datetime(2101, 1, 1, tzinfo=UTC)
    with connection.cursor() as cursor:
        cursor.execute("ALTER TABLE jobs_crew DISABLE TRIGGER USER")
        Crew.objects.update(updated_at=ahead)
        cursor.execute("ALTER TABLE jobs_crew ENABLE TRIGGER USER")
    for times in (1, 2):
        Crew.objects.update(truck=f"T{times}")
        assert changed_at(crew) == ahead + timedelta(microseconds=times)


@pytest.mark.django_db
def test_what_changes_nothing_is_no_change():
    crew = CrewFactory(truck="T1")
    before = changed_at(crew)
    Crew.objects.update(truck="T1")
    assert changed_at(crew) == before


@pytest.mark.django_db
def test_a_record_changes_with_its_steps_and_hours_and_a_sheet_with_its_lines():
    record = start(make_assigned()[0])
    seen = [changed_at(record)]
    step = record.steps.create(step="measure", recorded_by=record.started_by, recorded_at=record.started_at)
    seen.append(changed_at(record))
    record.hours.create(person="Ann", on=tomorrow(0), person_h=2)
    seen.append(changed_at(record))
    step.delete()
    seen.append(changed_at(record))
    sheet, product = make_sheet(), make_strip()
    of_sheet = [changed_at(sheet)]
    load(sheet, product, 1)
    of_sheet.append(changed_at(sheet))
    PullSheetLine.objects.update(loaded_packages=3)
    of_sheet.append(changed_at(sheet))
    for said in (seen, of_sheet):
        assert sorted(set(said)) == said
    assert changed_at(InstallRecord.objects.get()) == seen[-1]


def polled(client, noun: str, since: str, *, size: int = 50) -> tuple[list[dict], str]:
    """Return what changed since, page by page, and where to go on the next time."""
    page = client.get(f"{API}/{noun}/", {"changed_since": since, "page_size": size}).json()
    rows, as_of = page["results"], page["as_of"]
    while page["next"]:
        page = client.get(page["next"]).json()
        rows += page["results"]
    return rows, as_of


@pytest.mark.django_db(transaction=True)
def test_a_copy_is_kept_by_asking_from_as_of_each_time():
    client = caller()
    crews = [CrewFactory() for _ in range(5)]
    rows, as_of = polled(client, "crews", BEGINNING, size=2)
    assert [row["id"] for row in rows] == [crew.pk for crew in crews]
    assert polled(client, "crews", as_of)[0] == []
    Crew.objects.filter(pk=crews[1].pk).update(truck="T9")
    rows, as_of = polled(client, "crews", as_of)
    assert [(row["id"], row["truck"]) for row in rows] == [(crews[1].pk, "T9")]
    assert polled(client, "crews", as_of)[0] == []


@pytest.mark.django_db(transaction=True)
def test_a_page_of_changes_goes_on_where_it_ended_though_rows_move_meanwhile():
    client = caller()
    crews = [CrewFactory() for _ in range(6)]
    first = client.get(f"{API}/crews/", {"changed_since": BEGINNING, "page_size": 3, "ordering": "-name"}).json()
    Crew.objects.filter(pk=crews[0].pk).update(truck="T9")  # it stands last now
    second = client.get(first["next"]).json()
    seen = [row["id"] for row in first["results"] + second["results"]]
    assert seen == [crew.pk for crew in crews]
    assert [row["truck"] for row in client.get(second["next"]).json()["results"]] == ["T9"]


@pytest.mark.django_db(transaction=True)
def test_rows_that_changed_at_one_moment_are_all_seen():
    client = caller()
    Crew.objects.bulk_create(Crew(name=f"C{n}", truck=f"T{n}", people_count=3) for n in range(7))
    with connection.cursor() as cursor:
        cursor.execute("ALTER TABLE jobs_crew DISABLE TRIGGER USER")
        Crew.objects.update(updated_at=timezone.now())
        cursor.execute("ALTER TABLE jobs_crew ENABLE TRIGGER USER")
    rows, _ = polled(client, "crews", BEGINNING, size=2)
    assert [row["id"] for row in rows] == sorted(Crew.objects.values_list("pk", flat=True))


@pytest.mark.django_db(transaction=True)
def test_what_ends_later_than_it_was_written_is_not_missed():
    client, written, may_end = caller(), Event(), Event()
    slow, quick = CrewFactory(), CrewFactory()
    _, as_of = polled(client, "crews", BEGINNING)

    def write_slowly() -> None:
        try:
            with transaction.atomic():
                Crew.objects.filter(pk=slow.pk).update(truck="slow")
                written.set()
                assert may_end.wait(timeout=10)
        finally:
            connections.close_all()

    with ThreadPoolExecutor(1) as threads:
        ends = threads.submit(write_slowly)
        assert written.wait(timeout=10)
        Crew.objects.filter(pk=quick.pk).update(truck="quick")
        rows, as_of = polled(client, "crews", as_of)
        assert [row["truck"] for row in rows] == ["quick"]
        may_end.set()
        ends.result(timeout=10)
    assert changed_at(slow) < changed_at(quick)
    assert "slow" in [row["truck"] for row in polled(client, "crews", as_of)[0]]


@pytest.mark.django_db
def test_changes_are_filtered_like_the_list_and_said_with_any_zone():
    client = caller()
    first, second = JobFactory(), JobFactory()
    held = [make_openings(1, job=job)[0].holds.create(kind="access", reason="stairs") for job in (first, second)]
    asked = {"changed_since": "1970-01-01T02:00:00.5+02:00", "opening__job": second.pk}
    assert [hold["id"] for hold in client.get(f"{API}/holds/", asked).json()["results"]] == [held[1].pk]
    after = (Hold.objects.latest("pk").updated_at + timedelta(microseconds=1)).isoformat()
    assert client.get(f"{API}/holds/", {"changed_since": after}).json()["results"] == []
    assert "as_of" not in client.get(f"{API}/holds/").json()


@pytest.mark.django_db
@pytest.mark.parametrize(
    "query",
    [
        "changed_since=yesterday", "changed_since=2026-11-30", "changed_since=2026-11-30T14:00:00", "changed_since=",
        "changed_since=2026-11-30T14:00:00+02:00", "changed_since=0001-01-01T00:00:00%2B14:00",
        "changed_since=2026-02-30T00:00:00Z", "changed_since=2026-11-30T14:00:00Z&after=-1",
        "changed_since=2026-11-30T14:00:00Z&after=9999999999999999999",
    ],
)  # fmt: skip
def test_a_moment_that_is_none_is_refused(query):
    problem = problem_of(caller().get(f"{API}/crews/?{query}"), 400, "bad-input")
    assert problem["errors"][0]["field"] in ("changed_since", "after")
