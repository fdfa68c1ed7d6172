"""A revised schedule and what the warehouse did already: trucks keep what is on them, issued sheets follow."""

from __future__ import annotations

import pytest
from django.utils import timezone

from materials import services
from materials.calc.parts import Part
from materials.models import PullSheet
from openings import services as openings
from openings.errors import BadSchedule
from openings.models import Assignment, Hold, Opening
from tests.factories import DetailFactory, make_catalogue, make_stock
from tests.materials.crew_days import make_crew_day, written
from tests.openings.rows import schedule_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    return DetailFactory(name="wall type 1").job


def take(job, *rows: str, **more):
    content = schedule_of(*rows, headings="Mark,Qty,RO width,RO height,Remarks")
    return openings.take_schedule(job_id=job.pk, filename="windows.csv", content=content, by=None, **more)


def assign(crew_day, *marks: str) -> None:
    for opening in Opening.objects.filter(mark__in=marks):
        Assignment.objects.create(opening=opening, crew_day=crew_day, person_h=3)


@pytest.fixture
def issued(job) -> PullSheet:
    """The written sheet of a crew day with W1 and W2; W3 is assigned to nobody."""
    make_catalogue()
    take(job, "W1,1,36,54,", "W2,1,36,54,", "W3,1,36,54,")
    crew_day = make_crew_day(openings=0)
    assign(crew_day, "W1", "W2")
    return written(crew_day)


def follow() -> list[int]:
    """Return the ids of the sheets that the next minute has written."""
    return services.request_due_pull_sheets(now=timezone.now())


def test_a_changed_opening_gets_a_hold_and_its_issued_sheet_follows_with_the_next_minute(job, issued):
    taken = take(job, "W1,1,38,54,", "W2,1,36,54,", "W3,1,40,54,")
    assert taken.counts["changed"] == 2
    assert list(Hold.objects.values_list("opening__mark", "kind")) == [("W1", "schedule changed")]
    revised = PullSheet.objects.get(pk__in=follow())
    assert (revised.crew_day, revised.revision, revised.state) == (issued.crew_day, 2, "pending")
    services.write_pull_sheet(sheet_id=revised.pk)
    revised.refresh_from_db()
    assert "W1 removed" in revised.changes
    assert list(revised.openings.values_list("mark", flat=True)) == ["W2"]


def test_a_change_that_touches_no_issued_sheet_revises_none(job, issued):
    take(job, "W1,1,36,54,", "W2,1,36,54,", "W3,1,40,54,")
    assert follow() == []
    assert PullSheet.objects.count() == 1


def test_an_opening_whose_material_is_on_the_truck_stays_as_it_is(job, issued):
    make_stock(issued.lines.get(parts__contains=Part.SILL_STRIP).product, 9)
    line = issued.lines.get(parts__contains=Part.SILL_STRIP)
    services.load_line(sheet_id=issued.pk, line_id=line.pk, packages=1, by=None)
    taken = take(job, "W1,1,38,54,note", "W3,1,40,54,")
    assert (taken.counts["left"], taken.counts["changed"], follow()) == (2, 1, [])
    assert Opening.objects.get(mark="W1").ro_width_in == 36
    assert not Opening.objects.get(mark="W2").is_void
    services.load_line(sheet_id=issued.pk, line_id=line.pk, packages=0, by=None)
    taken = take(job, "W1,1,38,54,note", "W2,1,36,54,", "W3,1,40,54,")
    assert (taken.counts["left"], taken.counts["changed"]) == (0, 1)


def test_a_refused_revision_leaves_sheets_and_holds_alone(job, issued):
    with pytest.raises(BadSchedule):
        take(job, "W1,1,38,54,", "W2,1,wide,54,")
    assert not Hold.objects.exists()
    assert follow() == []
