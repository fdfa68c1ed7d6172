"""The crew's own days as a page."""

from __future__ import annotations

import pytest
from django.urls import reverse

from jobs.models import Person
from openings import services
from openings.models import Assignment
from tests.factories import CrewFactory, PersonFactory, make_catalogue, make_openings, tomorrow
from tests.materials.crew_days import make_crew_day
from tests.pages.html import html_of
from tests.pages.people import signed_in

PAGE = reverse("crew-day-page")


@pytest.mark.django_db
def test_a_crew_lead_sees_the_openings_of_their_own_crew_only():
    own, other = CrewFactory(), CrewFactory()
    mine, theirs = make_openings(2)
    services.assign(opening_ids=[mine.pk], crew_id=own.pk, on=tomorrow(), by=None)
    services.assign(opening_ids=[theirs.pk], crew_id=other.pk, on=tomorrow(), by=None)
    page = html_of(signed_in(Person.Role.CREW_LEAD, crew=own).get(PAGE))
    assert mine.mark in page
    assert theirs.mark not in page


@pytest.mark.django_db
def test_each_opening_says_size_weight_and_people_with_the_caution():
    crew = CrewFactory()
    (opening,) = make_openings(1, weight_lb=60)
    services.assign(opening_ids=[opening.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    page = html_of(signed_in(Person.Role.CREW_LEAD, crew=crew).get(PAGE))
    # Two people lift 2/3 of twice their limit (HSE L23); 2/3 × 2 × 51 lb (DHHS/NIOSH 94-110) is 68 lb.
    for fact in ("2&#x27; 11 1/2&quot; × 4&#x27; 5 1/2&quot;", "60 lb · 2 people", "A guide, not a clearance to lift"):
        assert fact in page, fact


@pytest.mark.django_db
def test_the_crew_is_told_what_to_be_careful_about_on_its_days_only():
    crew = CrewFactory()
    (mine,), (theirs,) = make_openings(1), make_openings(1)
    services.assign(opening_ids=[mine.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    services.assign(opening_ids=[theirs.pk], crew_id=CrewFactory().pk, on=tomorrow(), by=None)
    mine.job.forecasts.create(on=tomorrow(), low_f=50, high_f=60, rain_in=2)
    theirs.job.forecasts.create(on=tomorrow(), low_f=50, high_f=60, wind_mph=44)
    page = html_of(signed_in(Person.Role.CREW_LEAD, crew=crew).get(PAGE))
    # Rain above 0.1 in a day: common practice, no source.
    assert "2 in of rain is forecast, above the limit of 0.1 in" in page
    assert f"{mine.job.code} {mine.mark}: no product is chosen for sill strip" in page
    assert "44 mph" not in page


@pytest.mark.django_db
def test_pairs_that_nobody_tested_take_a_line_and_unfold():
    make_catalogue()
    crew = CrewFactory()
    (mine,) = make_openings(1)
    services.assign(opening_ids=[mine.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    page = html_of(signed_in(Person.Role.CREW_LEAD, crew=crew).get(PAGE))
    line, _, folded = page.partition(f"{mine.job.code} {mine.mark}: ")[2].partition("<details>")
    assert "pairs of materials that touch are not known to be compatible." in line
    assert "Test them together first" in line
    assert "jamb-strip and sill-strip" in folded
    assert "jamb-strip" not in line


@pytest.mark.django_db
def test_what_yesterday_left_open_stands_first_until_somebody_decides():
    crew = CrewFactory()
    make_crew_day(on=tomorrow(-1), crew=crew)
    (left,) = Assignment.objects.all()
    lead = signed_in(Person.Role.CREW_LEAD, crew=crew)
    page = html_of(lead.get(PAGE))
    assert "Still open from earlier days <small>1 opening</small>" in page
    assert page.count(f'<span class="mark">{left.opening.mark}</span>') == 1
    services.move(assignment_ids=[left.pk], crew_id=CrewFactory().pk, on=tomorrow(), by=PersonFactory())
    assert "Still open" not in html_of(lead.get(PAGE))


@pytest.mark.django_db
def test_a_lift_beyond_the_equation_asks_before_it_is_lifted():
    crew = CrewFactory()
    # 60 lb onto a sill at 60 in: hands above 70 in, DHHS/NIOSH 94-110 p. 6.
    (opening,) = make_openings(1, weight_lb=60, sill_above_floor_in=60)
    services.assign(opening_ids=[opening.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    page = html_of(signed_in(Person.Role.CREW_LEAD, crew=crew).get(PAGE))
    assert "60 lb · lifting aid, at least 3 people, ask before you lift" in page


@pytest.mark.django_db
def test_the_office_chooses_whose_days_it_sees(scheduler):
    crew = CrewFactory(name="Rowan", truck="Truck 9")
    assert "Choose a crew" in html_of(scheduler.get(PAGE))
    assert "Truck 9" in html_of(scheduler.get(PAGE, {"crew": crew.pk}))
    assert scheduler.get(PAGE, {"crew": "nobody"}).status_code == 400


@pytest.mark.django_db
@pytest.mark.parametrize("count", [1, 5])
def test_the_days_take_as_many_queries_for_many_openings_as_for_one(django_assert_num_queries, count):
    crew = CrewFactory(people_count=20)
    services.assign(opening_ids=[o.pk for o in make_openings(count)], crew_id=crew.pk, on=tomorrow(), by=None)
    lead = signed_in(Person.Role.CREW_LEAD, crew=crew)
    # Session, person, crew, zones, assignments; six of the cautions where no product is chosen; zones, stranded.
    with django_assert_num_queries(5 + 6 + 2):
        page = html_of(lead.get(PAGE))
    assert page.count('class="mark"') == count
