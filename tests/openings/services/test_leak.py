"""A detail that lets water in is not given to an opening, unless somebody accepts that by name.

A pan laps over the drainage plane below it: Building Science Corp. Info-302. One with no front lap does not.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from jobs.errors import BadInput, Conflict
from jobs.models import Person
from materials.services import revise_detail
from openings import services
from openings.calc.lay_order import steps_for
from openings.calc.step_code import StepCode
from openings.errors import DetailLeaks
from openings.models import InstallationDetail, Opening
from tests.factories import DetailFactory, JobFactory, OpeningFactory, PersonFactory
from tests.openings.rows import schedule_of, take

pytestmark = pytest.mark.django_db

SIZES = {"ro_width_in": 36, "ro_height_in": 54, "unit_width_in": 35, "unit_height_in": 53}
NO_LAP = {"pan_front_lap_in": Decimal(0)}


@pytest.fixture
def job():
    return JobFactory()


@pytest.fixture
def leaking(job) -> InstallationDetail:
    return DetailFactory(job=job, name="bay", is_default=True, **NO_LAP)


@pytest.fixture
def owner() -> Person:
    return PersonFactory(role="owner")


def test_it_is_refused_for_a_new_opening(job, leaking) -> None:
    with pytest.raises(DetailLeaks, match="does not lap down over the sill strip") as refused:
        services.add_opening(job=job, detail=leaking, mark="W1", **SIZES)
    assert [fault.field for fault in refused.value.faults] == ["detail"]
    assert '1" at least' in refused.value.detail
    assert not Opening.objects.exists()


def test_it_is_refused_for_an_opening_that_has_another(job, leaking) -> None:
    opening = OpeningFactory(job=job, detail=DetailFactory(job=job))
    with pytest.raises(DetailLeaks):
        services.revise_opening(opening_id=opening.pk, detail=leaking)


def test_an_opening_that_has_it_keeps_it(job, leaking) -> None:
    opening = OpeningFactory(job=job, detail=leaking)
    assert services.revise_opening(opening_id=opening.pk, remarks="north", detail=leaking).remarks == "north"


@pytest.mark.parametrize(
    ("headings", "row"), [("Mark,RO width,RO height,Detail", "W1,36,54,bay"), ("Mark,RO width,RO height", "W1,36,54")]
)
def test_a_row_of_a_schedule_that_gets_it_is_refused(job, leaking, headings: str, row: str) -> None:
    with pytest.raises(DetailLeaks, match="nothing was saved") as refused:
        take(job, schedule_of(row, headings=headings))
    assert [(fault.row, fault.value) for fault in refused.value.faults] == [(2, "bay")]
    assert not Opening.objects.exists()


def test_once_it_is_accepted_it_is_given(job, leaking, owner) -> None:
    accepted = services.accept_leak(detail_id=leaking.pk, by=owner, why="under a deep porch")
    assert (accepted.leak_accepted_by, accepted.leak_accepted_why) == (owner, "under a deep porch")
    take(job, schedule_of("W1,36,54", headings="Mark,RO width,RO height"))
    assert services.add_opening(job=job, detail=accepted, mark="W2", schedule_mark="W2", **SIZES).pk


def test_what_was_accepted_holds_until_the_answers_change(leaking, owner) -> None:
    services.accept_leak(detail_id=leaking.pk, by=owner, why="under a deep porch")
    assert revise_detail(detail_id=leaking.pk, name="porch").is_leak_accepted
    assert not revise_detail(detail_id=leaking.pk, strap_corner_in=Decimal(9)).is_leak_accepted


def test_a_change_that_lets_water_into_openings_is_refused(job) -> None:
    detail = DetailFactory(job=job)
    OpeningFactory(job=job, detail=detail)
    with pytest.raises(DetailLeaks):
        revise_detail(detail_id=detail.pk, **NO_LAP)
    assert InstallationDetail.objects.get().pan_front_lap_in == 2


def test_a_change_that_lets_no_more_in_than_before_is_not(job, leaking) -> None:
    OpeningFactory(job=job, detail=leaking)
    assert revise_detail(detail_id=leaking.pk, strap_corner_in=Decimal(9)).strap_corner_in == 9


def test_an_order_of_its_own_is_judged(job) -> None:
    detail = DetailFactory(job=job)
    OpeningFactory(job=job, detail=detail)
    usual = [step.code for step in steps_for(detail.as_facts())]
    head_first = [code for code in usual if code != StepCode.JAMB_STRIPS] + [StepCode.JAMB_STRIPS]
    with pytest.raises(DetailLeaks, match="laid before the jamb strips"):
        revise_detail(detail_id=detail.pk, own_order=head_first)


def test_only_a_leak_is_accepted_and_only_with_a_reason(job, leaking, owner) -> None:
    with pytest.raises(BadInput, match="say why"):
        services.accept_leak(detail_id=leaking.pk, by=owner, why="  ")
    with pytest.raises(Conflict, match="nothing to accept"):
        services.accept_leak(detail_id=DetailFactory(job=job).pk, by=owner, why="under a deep porch")


@pytest.mark.parametrize("values", [{"leak_accepted_why": "porch"}, {"by": True}])
def test_the_database_keeps_who_when_and_why_together(leaking, owner, values) -> None:
    stored = {"leak_accepted_by": owner} if "by" in values else values
    with pytest.raises(IntegrityError), transaction.atomic():
        InstallationDetail.objects.filter(pk=leaking.pk).update(**stored)
