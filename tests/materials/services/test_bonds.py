"""What binds an opening, whichever way somebody wants to change or end it."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from functools import partial

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from jobs.errors import Conflict
from jobs.models import CrewDay
from materials import services
from materials.calc.parts import Part
from materials.models import PlannedRoll, PullSheet, PullSheetLine
from openings import services as openings
from openings.calc.binding import Bond
from openings.models import Hold, InstallationDetail, OnSheet, Opening
from openings.queries import bounds_of, bounds_of_opening
from tests.factories import (
    CrewFactory,
    DetailFactory,
    PersonFactory,
    make_catalogue,
    make_openings,
    make_stock,
    tomorrow,
)
from tests.materials.at_once import at_once
from tests.materials.crew_days import written
from tests.old_rows import rewrite
from tests.openings.rows import finish, live, schedule_of, start
from tests.openings.rows import take as take_rows

pytestmark = pytest.mark.django_db

HEADINGS = "Mark,Qty,RO width,RO height,Remarks"
STAGES = [None, *Bond]


def take(*rows: str) -> None:
    take_rows(Opening.objects.first().job, schedule_of(*rows, headings=HEADINGS))


def strips(sheet: PullSheet) -> PullSheetLine:
    return sheet.lines.get(parts__contains=Part.SILL_STRIP)


def load(sheet: PullSheet, packages: int = 1) -> None:
    make_stock(strips(sheet).product, 5)
    services.load_line(sheet_id=sheet.pk, line_id=strips(sheet).pk, packages=packages, by=None)


def bring_to(stage: Bond | None) -> Opening:
    """Return opening W1 of a schedule with W1 and W2, as far along as a stage."""
    detail = DetailFactory(name="wall type 1")
    make_catalogue()
    take_rows(detail.job, schedule_of("W1,1,36,54,", "W2,1,36,54,", headings=HEADINGS))
    opening = Opening.objects.get(mark="W1")
    if stage is None:
        return opening
    crew = CrewFactory(people_count=20)
    openings.assign(opening_ids=[opening.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    if stage in (Bond.SHEET_ISSUED, Bond.ON_A_TRUCK):
        sheet = written(CrewDay.objects.get(crew=crew))
        if stage is Bond.ON_A_TRUCK:
            load(sheet)
    elif stage in (Bond.STARTED, Bond.DONE):
        record = start(opening)
        if stage is Bond.DONE:
            finish(record)
    return opening


def patch(opening: Opening) -> None:
    openings.revise_opening(opening_id=opening.pk, ro_width_in=Decimal(38))


def give_detail(opening: Opening) -> None:
    other = DetailFactory(job=opening.job, name="wall type 2")
    openings.revise_opening(opening_id=opening.pk, detail=other)


def revise_detail(opening: Opening) -> None:
    services.revise_detail(detail_id=opening.detail_id, end_lap_in=Decimal(5))


def withdraw_and_void(opening: Opening) -> None:
    if opening.assignments.exists():
        openings.withdraw(assignment_id=live(opening).pk, by=PersonFactory())
    openings.void_opening(opening_id=opening.pk)


def reschedule(opening: Opening) -> None:
    """Change it by the next file of its schedule, or say why that leaves it as it is."""
    content = schedule_of("W1,1,38,54,", "W2,1,36,54,", headings=HEADINGS)
    _say_hindrance(opening, content)


def remove(opening: Opening) -> None:
    """Remove it by the next file, once it is withdrawn."""
    if opening.assignments.exists():
        openings.withdraw(assignment_id=live(opening).pk, by=PersonFactory())
    _say_hindrance(opening, schedule_of("W2,1,36,54,", headings=HEADINGS))


def _say_hindrance(opening: Opening, content: bytes) -> None:
    plan = openings.preview_schedule(job_id=opening.job_id, filename="windows.csv", content=content)
    (line,) = plan.lines
    if line.hindrance:
        raise Conflict(line.hindrance)
    take_rows(opening.job, content)


ROADS: list[Callable[[Opening], None]] = [patch, give_detail, revise_detail, withdraw_and_void, reschedule, remove]
FIRST = {
    Bond.ON_A_TRUCK: r"its material is on the truck of Crew \d+ for .* since .* bring the material back first",
    Bond.STARTED: "its install was started .* [AP]M",
    Bond.DONE: "its install has been complete since .* [AP]M|its install was started .* [AP]M",
}


@pytest.mark.parametrize("road", ROADS, ids=lambda road: road.__name__)
@pytest.mark.parametrize("stage", STAGES)
def test_all_roads_refuse_alike(road, stage):
    opening = bring_to(stage)
    before = Opening.objects.values().get(pk=opening.pk), InstallationDetail.objects.values().get(pk=opening.detail_id)
    if stage in FIRST:
        with pytest.raises(Conflict, match=FIRST[stage]):
            road(opening)
        now = Opening.objects.values().get(pk=opening.pk), InstallationDetail.objects.values().get(pk=opening.detail_id)
        assert now == before
        assert not Hold.objects.exists()
    else:
        road(opening)
        held = road is reschedule and stage is not None
        assert opening.holds.filter(kind="schedule changed").exists() is held


@pytest.mark.parametrize("road", ROADS, ids=lambda road: road.__name__)
def test_what_is_brought_back_binds_no_more(road):
    opening = bring_to(Bond.ON_A_TRUCK)
    load(PullSheet.objects.get(), packages=0)
    road(opening)


@pytest.mark.parametrize("stage", STAGES)
def test_remarks_and_weight_are_never_bound(stage):
    opening = bring_to(stage)
    openings.revise_opening(
        opening_id=opening.pk, remarks="behind the canopy", weight_lb=Decimal(80), weight_confirmed=True
    )
    openings.revise_detail(detail_id=opening.detail_id, name="wall type 1a")
    take("W1,1,36,54,by the stair", "W2,1,36,54,")
    opening.refresh_from_db()
    assert opening.remarks == "by the stair"


def test_one_read_says_what_binds_and_since_when():
    opening = bring_to(Bond.ON_A_TRUCK)
    start(opening)
    bounds = bounds_of_opening(opening.pk)
    assert [bound.bond for bound in bounds] == list(Bond)[:4]
    row, record = OnSheet.objects.get(), opening.install_record
    assert [bound.since for bound in bounds] == [
        live(opening).assigned_at, row.issued_at, row.on_truck_since, record.started_at,
    ]  # fmt: skip


def test_many_are_read_in_as_many_queries_as_one():
    make_openings(20)
    with CaptureQueriesContext(connection) as queries:
        bounds_of(Opening.objects.all())
    assert len(queries) == 3


def test_told_twice_is_told_once():
    opening = bring_to(Bond.ON_A_TRUCK)
    before = list(OnSheet.objects.values())
    services.load_line(
        sheet_id=PullSheet.objects.get().pk, line_id=strips(PullSheet.objects.get()).pk, packages=1, by=None
    )
    services.write_pull_sheet(sheet_id=PullSheet.objects.get().pk)
    assert list(OnSheet.objects.values()) == before
    assert before[0]["opening_id"] == opening.pk


def test_settled_rolls_bind_no_more():
    opening = bring_to(Bond.ON_A_TRUCK)
    rewrite(CrewDay.objects.all(), on=tomorrow(-1))
    roll = PlannedRoll.objects.filter(product=strips(PullSheet.objects.get()).product).first()
    services.settle_roll(roll_id=roll.pk, came_back_in=Decimal(100), by=None)
    assert Bond.ON_A_TRUCK not in {bound.bond for bound in bounds_of_opening(opening.pk)}


def test_what_was_loaded_for_a_withdrawn_opening_binds_it_until_it_is_brought_back():
    opening = bring_to(Bond.ON_A_TRUCK)
    crew_day = live(opening).crew_day
    openings.withdraw(assignment_id=live(opening).pk, by=PersonFactory())
    revised = written(crew_day)
    with pytest.raises(Conflict, match="bring the material back first"):
        openings.void_opening(opening_id=opening.pk)
    line = revised.lines.get()
    services.load_line(sheet_id=revised.pk, line_id=line.pk, packages=0, by=None)
    assert openings.void_opening(opening_id=opening.pk).is_void


def test_material_that_others_on_the_truck_need_frees_who_was_withdrawn():
    opening = bring_to(Bond.ASSIGNED)
    crew_day = live(opening).crew_day
    other = Opening.objects.get(mark="W2")
    openings.assign(opening_ids=[other.pk], crew_id=crew_day.crew_id, on=crew_day.on, by=None)
    load(written(crew_day))
    openings.withdraw(assignment_id=live(opening).pk, by=PersonFactory())
    written(crew_day)
    assert not bounds_of_opening(opening.pk)
    assert Bond.ON_A_TRUCK in {bound.bond for bound in bounds_of_opening(other.pk)}


@pytest.mark.django_db(transaction=True)
def test_who_loads_and_who_changes_the_opening_at_the_same_moment():
    """Whoever is second sees what the first did: each is done, or the change is refused, and nobody waits for ever."""
    opening = bring_to(Bond.SHEET_ISSUED)
    sheet = PullSheet.objects.get()
    for attempt in range(8):
        width_in = Decimal(40 + attempt)
        loaded, changed = at_once(
            partial(load, sheet), partial(openings.revise_opening, opening_id=opening.pk, ro_width_in=width_in)
        )
        assert loaded is None
        since = OnSheet.objects.get().on_truck_since
        opening.refresh_from_db()
        is_refused = isinstance(changed, Conflict)
        assert (opening.ro_width_in == width_in) is not is_refused
        assert since is not None
        load(sheet, packages=0)
