"""A unit and a crew of too few people: refused with both figures, or decided by somebody by name."""

from __future__ import annotations

import pytest
from django.db import IntegrityError

from jobs.errors import BadInput
from openings import services
from openings.errors import CrewTooSmall
from openings.models import Assignment
from tests.factories import CrewFactory, PersonFactory, make_openings, tomorrow
from tests.openings.rows import left_over, live, make_assigned

pytestmark = pytest.mark.django_db

# DHHS/NIOSH 94-110: one person lifts 51 lb at best. HSE L23: two people lift 2/3, three 1/2 of the sum of their
# limits, so 68 and 76.5 lb. What is heavier takes an aid, and three people who guide it (the largest team of HSE L23).
REASON = "two of the roofer's people help on Monday"


def assign(opening, crew, **values):
    values.setdefault("by", PersonFactory())
    return services.assign(opening_ids=[opening.pk], crew_id=crew.pk, on=tomorrow(), **values)


@pytest.mark.parametrize(
    ("weight_lb", "people", "takes"),
    [
        (69, 2, "weighs 69 lb and takes 3 people; Rowan has 2 people"),
        (400, 2, "weighs 400 lb and takes a lifting aid and 3 people to guide it; Rowan has 2 people"),
        (30, 1, "weighs 30 lb and takes 2 people; Rowan has 1 person"),
    ],
    ids=["three lift", "an aid and three", "two set"],
)
def test_a_crew_that_is_too_small_is_refused_with_opening_weight_and_people(weight_lb, people, takes):
    (opening,) = make_openings(1, weight_lb=weight_lb)
    with pytest.raises(CrewTooSmall) as refused:
        assign(opening, CrewFactory(name="Rowan", people_count=people))
    assert f"{opening.mark} of {opening.job.code} {takes}" in refused.value.detail
    assert not Assignment.objects.exists()


@pytest.mark.parametrize(("weight_lb", "people"), [(68, 2), (76, 3), (400, 3)])
def test_an_aid_is_no_hindrance_where_its_guides_are_there(weight_lb, people):
    (opening,) = make_openings(1, weight_lb=weight_lb)
    (given,) = assign(opening, CrewFactory(people_count=people))
    assert (given.short_crew_reason, given.short_crew_by) == ("", None)


def test_somebody_decides_by_name_and_only_for_what_is_too_heavy():
    heavy, light = make_openings(2)
    type(heavy).objects.filter(pk=heavy.pk).update(weight_lb=120)
    type(light).objects.filter(pk=light.pk).update(weight_lb=50)
    by, crew = PersonFactory(), CrewFactory(people_count=2)
    services.assign(opening_ids=[heavy.pk, light.pk], crew_id=crew.pk, on=tomorrow(), by=by, short_crew_reason=REASON)
    assert (live(heavy).short_crew_reason, live(heavy).short_crew_by) == (REASON, by)
    assert (live(light).short_crew_reason, live(light).short_crew_by) == ("", None)


def test_nobody_decides_nothing():
    (opening,) = make_openings(1, weight_lb=400)
    with pytest.raises(BadInput, match="only a person"):
        assign(opening, CrewFactory(people_count=2), by=None, short_crew_reason=REASON)


@pytest.mark.parametrize("half", [{"short_crew_reason": REASON}, {"short_crew_by": 1}], ids=["no name", "no reason"])
def test_reason_and_name_stand_together(half):
    (opening,) = make_assigned()
    values = {name: PersonFactory().pk if name == "short_crew_by" else value for name, value in half.items()}
    with pytest.raises(IntegrityError, match="short_crew_has_a_reason_and_a_person"):
        Assignment.objects.filter(opening=opening).update(**values)


def test_moving_to_a_crew_that_is_too_small_is_refused_too():
    (opening,) = make_assigned(weight_lb=400)
    given, small, by = live(opening), CrewFactory(people_count=2), PersonFactory()
    with pytest.raises(CrewTooSmall):
        services.move(assignment_ids=[given.pk], crew_id=small.pk, on=tomorrow(), by=by)
    assert live(opening) == given
    (moved,) = services.move(
        assignment_ids=[given.pk], crew_id=small.pk, on=tomorrow(), by=by, short_crew_reason=REASON
    )
    assert (moved.short_crew_by, moved.short_crew_reason) == (by, REASON)


def test_a_unit_that_is_fastened_is_lifted_no_more():
    set_one, lifted = make_openings(2, weight_lb=400)
    crew, small, by = CrewFactory(), CrewFactory(people_count=2), PersonFactory()
    begun = left_over(lifted, crew, steps=1)
    with pytest.raises(CrewTooSmall):
        services.move(assignment_ids=[begun.pk], crew_id=small.pk, on=tomorrow(), by=by)
    fastened = left_over(set_one, crew, steps=8)
    codes = set(set_one.install_record.steps.values_list("step", flat=True))
    assert "fasten" in codes
    assert services.move(assignment_ids=[fastened.pk], crew_id=small.pk, on=tomorrow(), by=by)
