"""The schedule of a job, written out and sent back, changes nothing."""

from __future__ import annotations

from decimal import Decimal

import pytest

from openings.models import Opening
from openings.queries import schedule_export
from openings.schedules import schedule_csv, schedule_xlsx
from openings.services import preview_schedule
from tests.factories import DetailFactory, JobFactory, OpeningFactory, tomorrow
from tests.openings.rows import make_assigned, schedule_of, take

pytestmark = pytest.mark.django_db

FACTS = {
    "operation": "casement, left",
    "floor": "Level 2",
    "weight_lb": Decimal("87.25"),
    "frame_material": "fiberglass",
    "lites_in": [Decimal("0.125"), Decimal("0.15625")],
    "design_pressure_psf": Decimal("50.5"),
    "access": "scaffold",
    "storeys_up": 2,
    "sill_above_floor_in": Decimal("36.03125"),
    "sill_above_grade_in": Decimal("-12.34375"),
    "clear_width_in": Decimal("20"),
    "clear_height_in": Decimal("24.5"),
    "clear_sill_above_floor_in": Decimal("44"),
    "pane_width_in": Decimal("30"),
    "pane_height_in": Decimal("40.25"),
    "is_egress": True,
    "is_grade_floor": False,
    "is_near_door": True,
    "is_near_walkway": False,
    "is_wet_area": True,
    "remarks": 'obscure, 1/8" glass',
}


@pytest.fixture(params=["csv", "xlsx"])
def kind(request):
    return request.param


def plan_of_own_export(job, kind):
    export = schedule_export(job.pk)
    written = {
        "csv": lambda: schedule_csv(export.openings),
        "xlsx": lambda: schedule_xlsx(export.openings, title=job.name, on=tomorrow()),
    }
    plan = preview_schedule(job_id=job.pk, filename=f"windows.{kind}", content=written[kind]())
    assert (plan.faults, plan.read.questions) == ((), ())
    return plan


def test_openings_of_a_schedule_stay_as_they_are(kind):
    detail = DetailFactory(is_default=True)
    take(detail.job, schedule_of("W3,12,36,54,", "W4,1,30 1/32,48.5,", "W5,2,915 mm,1500 mm,"))
    plan = plan_of_own_export(detail.job, kind)
    assert plan.changes_nothing
    assert len(plan.unchanged) == 15
    assert {"W3-01", "W3-12", "W4", "W5-02"} <= set(plan.unchanged)


def test_openings_of_which_everything_is_said_stay_as_they_are(kind):
    job = JobFactory(name="Tower 3, Level 7")
    detail, other = DetailFactory(job=job, name="flange, over barrier"), DetailFactory(job=job, name="=box")
    OpeningFactory(job=job, detail=detail, mark="W1", **FACTS)
    OpeningFactory(job=job, detail=other, mark="=1+1", ro_width_in=Decimal("36.02362"))
    assert plan_of_own_export(job, kind).changes_nothing


def test_openings_on_the_way_stay_as_they_are_and_void_ones_void(kind):
    job = JobFactory()
    make_assigned(job=job, mark="W1")
    void = OpeningFactory(job=job, detail=DetailFactory(job=job), mark="W2", is_void=True)
    plan = plan_of_own_export(job, kind)
    assert (plan.changes_nothing, plan.unchanged) == (True, ("W1",))
    assert Opening.objects.get(pk=void.pk).is_void


@pytest.mark.parametrize("mark", ["1-2", "101-104", "W3-10", "A/B", "A, B", "W1-W4", "W1 to W4"])
def test_a_mark_that_could_name_several_is_one_where_we_wrote_it(kind, mark):
    opening = OpeningFactory(mark=mark)
    assert plan_of_own_export(opening.job, kind).unchanged == (mark,)


@pytest.mark.parametrize("letters", [41, 50])
def test_the_longest_mark_of_an_opening_comes_back(kind, letters):
    opening = OpeningFactory(mark="W" * letters, schedule_mark="W" * 40)
    assert plan_of_own_export(opening.job, kind).changes_nothing
