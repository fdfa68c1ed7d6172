"""A revised schedule and what the warehouse did already: trucks keep what is on them, issued sheets follow."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.utils import timezone

from materials import services
from materials.calc.parts import Part
from materials.models import PullSheet, RollCut
from openings import services as openings
from openings.errors import BadSchedule
from openings.models import Assignment, Hold, Opening
from tests.factories import DetailFactory, PersonFactory, make_catalogue, make_stock
from tests.materials.crew_days import make_crew_day, texts, workbook_of, written
from tests.openings.rows import measure, schedule_of

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


def accepted(mark: str, width_in: str) -> None:
    by = PersonFactory()
    openings.accept_measurement(measurement_id=measure(Opening.objects.get(mark=mark), width_in, "54", by=by).pk, by=by)


def test_an_accepted_size_is_what_the_next_minutes_sheet_cuts_for_and_both_sizes_stand_on_it(job, issued):
    accepted("W1", "36.375")
    (sheet_id,) = follow()
    services.write_pull_sheet(sheet_id=sheet_id)
    revised = PullSheet.objects.get(pk=sheet_id)
    assert "W1: rough opening width as built 3' 0 3/8\", was none" in revised.changes
    assert not Hold.objects.exists()
    # AAMA 2400-10 note 3: rough-opening width + 2 × strip width; 36-3/8 + 18 = 54-3/8 in instead of 54.
    cuts = RollCut.objects.filter(roll__sheet=revised, part=Part.SILL_STRIP).values_list("opening__mark", "length_in")
    assert dict(cuts) == {"W1": Decimal("54.375"), "W2": Decimal(54)}
    texts_said = texts(workbook_of(revised), "Openings")
    assert "3' 0 3/8\" ×\n4' 6\"\nas built,\ndrawn\n3' 0\" ×\n4' 6\"" in texts_said


def test_an_accepted_size_of_which_material_is_on_the_truck_goes_on_hold(job, issued):
    line = issued.lines.get(parts__contains=Part.SILL_STRIP)
    make_stock(line.product, 9)
    services.load_line(sheet_id=issued.pk, line_id=line.pk, packages=1, by=None)
    accepted("W1", "36.375")
    (hold,) = Hold.objects.open()
    assert (hold.opening.mark, hold.kind) == ("W1", "material short")
    assert "its material is on the truck of" in hold.reason
    assert len(follow()) == 1


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
