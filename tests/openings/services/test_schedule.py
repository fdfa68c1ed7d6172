"""Taking a window schedule into a job: what each row makes, and that a wrong file leaves nothing behind."""

from __future__ import annotations

import hashlib
from decimal import Decimal
from threading import Thread
from time import sleep

import pytest
from django.db import IntegrityError, connection, connections, transaction
from django.test.utils import CaptureQueriesContext

from jobs.errors import Conflict, NotFound
from openings import services
from openings.errors import BadSchedule
from openings.models import InstallationDetail, Opening, WindowSchedule
from openings.schedules import Change
from tests.factories import DetailFactory, JobFactory, OpeningFactory
from tests.openings.rows import schedule_of, take

pytestmark = pytest.mark.django_db

BOTH = "Mark,Qty,RO width,RO height,Unit width,Unit height"
FLANGE = '"flange over, wrap before"'


@pytest.fixture
def job():
    return JobFactory()


@pytest.fixture(autouse=True)
def detail(job):
    """The only detail of the job; its clearances are 1/2 in by 3/4 in."""
    return DetailFactory(job=job, name="wall type 1", ro_clearance_height_in=Decimal("0.75"))


def faults_of(job, content: bytes, **values) -> list[tuple[int, str, str]]:
    with pytest.raises(BadSchedule) as refused:
        take(job, content, **values)
    assert not WindowSchedule.objects.exists()
    assert not Opening.objects.filter(schedule__isnull=False).exists()
    return [(fault.row, fault.field, fault.value) for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("headings", "row", "rough", "unit"),
    [
        # A flanged unit is 1/2 in smaller than its opening: JELD-WEN JII023; in height the detail asks for 3/4.
        ("Mark,RO width,RO height", "W,36,54", ("36", "54"), ("35.5", "53.25")),
        ("Mark,Unit width,Unit height", "W,35.5,53.25", ("36", "54"), ("35.5", "53.25")),
        (BOTH.replace("Qty,", ""), "W,36,54,35,53", ("36", "54"), ("35", "53")),
        # Call size 3046 is 3 ft 0 in by 4 ft 6 in, width first: alpinedesign.blogspot.com/2010/04, secondary.
        ("Mark,RO size", "W,3046", ("36", "54"), ("35.5", "53.25")),
    ],
    ids=["rough opening only", "unit only", "both", "call size"],
)
def test_the_size_not_given_follows_from_the_clearances_of_the_detail(job, headings, row, rough, unit):
    opening = take(job, schedule_of(row, headings=headings)).openings.get()
    assert (opening.ro_width_in, opening.ro_height_in) == tuple(map(Decimal, rough))
    assert (opening.unit_width_in, opening.unit_height_in) == tuple(map(Decimal, unit))


def test_a_quantity_makes_numbered_openings_and_a_single_one_keeps_its_mark(job):
    schedule = take(job, schedule_of("W3,12,36,54,", "W4,1,36,54,", "W5,100,36,54,"))
    marks = list(schedule.openings.order_by("position").values_list("mark", flat=True))
    assert marks[:12] == [f"W3-{number:02}" for number in range(1, 13)]
    assert marks[12] == "W4"
    assert (marks[13], marks[-1]) == ("W5-001", "W5-100")


def test_a_file_that_adds_alone_continues_the_order_of_the_job(job):
    take(job, schedule_of("W1,2,36,54,"))
    second = take(job, schedule_of("W2,1,36,54,"), choice=services.Choice(kinds=frozenset({Change.ADDED})))
    assert (second.revision, second.openings.get().position) == (2, 3)


@pytest.mark.parametrize(
    ("named", "given", "expected"),
    [
        ("Wall  Type 1", "", "wall type 1"),
        ("Box Frame Replacement", "", "box frame replacement"),
        ("", "", "wall type 1"),
        ("", "box frame replacement", "box frame replacement"),
        ("wall type 1", "box frame replacement", "wall type 1"),
    ],
    ids=["by name", "a starting point", "the only one", "given for the file", "the row goes first"],
)
def test_a_row_finds_its_detail(job, named, given, expected):
    opening = take(job, schedule_of(f"W,1,36,54,{named}"), detail=given).openings.get()
    assert (opening.detail.name, opening.detail.job) == (expected, job)


def test_a_starting_point_is_copied_into_the_job_once():
    job = JobFactory()
    take(job, schedule_of(f"W1,1,36,54,{FLANGE}", f"W2,1,36,54,{FLANGE}"))
    take(job, schedule_of(f"W3,1,36,54,{FLANGE}"))
    assert InstallationDetail.objects.get(job=job).openings.count() == 3  # W1 and W2 are void, not gone


@pytest.mark.parametrize(
    ("default", "problem"),
    [("", "no installation detail is named or set as default"), ("wall type 9", "no such installation detail")],
    ids=["none", "unknown"],
)
def test_a_detail_that_is_not_there_is_said_with_what_could_be_written(default, problem):
    with pytest.raises(BadSchedule) as refused:
        take(JobFactory(), schedule_of("W,1,36,54,"), detail=default)
    (fault,) = refused.value.faults
    assert fault.detail.startswith(problem)
    assert "flange over, wrap before" in fault.detail
    assert fault.value == default


def test_every_wrong_row_is_listed_and_nothing_is_written(job, detail):
    rows = [
        "W1,1,36,54,", "W2,0,36,54,", "W3,1,-36,54,", "W4,1,36,481,", "W5,1,wide,54,", ",1,36,54,", "W1,1,36,54,",
        "W6,1,36,54,unknown", "W8,1,0.5,54,", "W7,1,0.000001,54,",
    ]  # fmt: skip
    assert faults_of(job, schedule_of(*rows)) == [
        (3, "Qty", "0"),
        (4, "RO width", "-36"),
        (5, "RO height", "481"),
        (6, "RO width", "wide"),
        (7, "Mark", ""),
        (8, "Mark", "W1"),
        (9, "Detail", "unknown"),
        (10, "size", '1/2" × 4\' 6"'),
        (11, "RO width", "0.000001"),
    ]


def test_a_mark_that_two_rows_make_is_refused_once_a_row(job, detail):
    assert faults_of(job, schedule_of("W1,3,36,54,", "W2,2,36,54,", "W2-01,1,36,54,")) == [(4, "mark", "W2-01")]


def test_more_openings_than_any_building_has_are_refused_before_they_are_made(job):
    rows = [f"W{number},999,36,54" for number in range(201)]
    with pytest.raises(BadSchedule, match="200,799 openings; at most 200,000"):
        take(job, schedule_of(*rows, headings="Mark,Qty,RO width,RO height"))


def test_the_same_mark_may_stand_in_two_jobs(job):
    content = schedule_of("W1,1,36,54,")
    take(job, content)
    take(DetailFactory().job, content)


@pytest.mark.parametrize("taken_by", [services.import_schedule, services.preview_schedule])
def test_the_same_file_is_not_taken_twice(job, taken_by):
    content = schedule_of("W1,1,36,54,")
    take(job, content)
    who = {"by": None} if taken_by is services.import_schedule else {}
    with pytest.raises(Conflict, match=r"already has this very file: windows\.csv"):
        taken_by(job_id=job.pk, filename="other.csv", content=content, **who)
    assert Opening.objects.count() == 1


def test_the_file_is_kept_byte_for_byte(job):
    content = "\ufeffMark;RO width;RO height\r\nW1;36,5;54\r\n".encode("utf-16")
    schedule = WindowSchedule.objects.get(pk=take(job, content).pk)
    assert bytes(schedule.content) == content
    # SHA-256: FIPS 180-4, as Python's hashlib computes it.
    assert schedule.sha256 == hashlib.sha256(content).hexdigest()
    assert schedule.openings.get().ro_width_in == Decimal("36.5")


def test_a_long_name_keeps_its_ending(job):
    name = f"{'x' * 300}.csv"
    schedule = services.import_schedule(job_id=job.pk, filename=name, content=schedule_of("W1,1,36,54,"), by=None)
    assert schedule.filename == name[-200:]


def test_a_job_that_is_not_there_is_said():
    with pytest.raises(NotFound):
        services.import_schedule(job_id=0, filename="windows.csv", content=schedule_of("W,1,36,54,"), by=None)


def test_a_preview_writes_nothing_and_says_what_the_real_run_then_does():
    job = JobFactory()
    content = schedule_of(f"W1,3,36,54,{FLANGE}", "W2,1,915 mm,1370 mm,box frame replacement")
    what = {"job_id": job.pk, "filename": "windows.csv", "content": content}
    plan = services.preview_schedule(**what)
    assert not Opening.objects.exists()
    assert not InstallationDetail.objects.filter(job=job).exists()
    assert not WindowSchedule.objects.exists()

    schedule = services.import_schedule(**what, by=None)
    made = schedule.openings.order_by("position").select_related("detail")
    assert [(o.mark, o.schedule_row, o.detail.name, o.as_facts()) for o in made] == [
        (o.mark, o.row.row, o.detail, o.facts) for o in plan.openings
    ]
    assert list(plan.new_details) == ["flange over, wrap before", "box frame replacement"]
    assert (schedule.columns, schedule.notes) == (plan.columns, list(plan.notes))


def test_an_import_and_its_revision_take_as_many_queries_for_200_rows_as_for_2():
    taken = []
    for rows in (2, 200):
        job = DetailFactory().job
        for width in (36, 37):
            kept = (f"W{number},1,{width},54," for number in range(rows))
            other = (f"V{width}-{number},1,36,54," for number in range(rows))
            with CaptureQueriesContext(connection) as queries:
                take(job, schedule_of(*kept, *other))
            taken.append(len(queries))
    assert taken[:2] == taken[2:]


@pytest.mark.django_db(transaction=True)
def test_a_mark_added_by_somebody_else_meanwhile_is_a_duplicate_and_nothing_is_written(job, detail):
    errors = []

    def import_it() -> None:
        try:
            take(job, schedule_of("W1,1,36,54,", "W2,1,36,54,"))
        except Exception as error:
            errors.append(error)
        finally:
            connections.close_all()

    with transaction.atomic():
        OpeningFactory(job=job, detail=detail, mark="W2")
        thread = Thread(target=import_it)
        thread.start()
        wait_for_a_lock()
    thread.join(timeout=30)
    (error,) = errors
    assert isinstance(error, IntegrityError)
    assert list(Opening.objects.values_list("mark", flat=True)) == ["W2"]
    assert not WindowSchedule.objects.exists()


def wait_for_a_lock() -> None:
    """Return once another connection waits for this one."""
    for _ in range(200):
        with connection.cursor() as cursor:
            cursor.execute("SELECT count(*) FROM pg_locks WHERE NOT granted")
            if cursor.fetchone()[0]:
                return
        sleep(0.05)
    raise AssertionError("nobody waits")


def test_a_row_whose_opening_cannot_take_the_detail_is_named(job, detail):
    # A pan turned up 6 in (common practice, no source) needs an opening higher than that.
    with pytest.raises(BadSchedule) as refused:
        take(job, schedule_of("W1,1,36,54,", "W2,1,36,6,"))
    (fault,) = refused.value.faults
    assert (fault.row, fault.field) == (3, "detail")
    assert "pan turn-up" in fault.detail
