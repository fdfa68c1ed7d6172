"""The crew board as a page: who is where, what waits, and what is refused."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.models import CrewDay, SiteDrive
from openings import services
from openings.calc.figures import brief
from openings.models import Assignment, Hold
from openings.queries import person_hours
from tests.factories import CrewFactory, OpeningFactory, PersonFactory, make_openings, tomorrow
from tests.materials.crew_days import make_crew_day
from tests.openings.rows import live, make_assigned
from tests.pages.html import html_of
from tests.pages.people import assign_form

BOARD = reverse("crew-board-page")


def shown(response) -> str:
    return html_of(response)


@pytest.mark.django_db
def test_ticked_openings_are_assigned_together(scheduler):
    openings, crew = make_openings(2), CrewFactory(name="Rowan")
    response = scheduler.post(BOARD, assign_form(openings, crew), follow=True)
    assert Assignment.objects.filter(crew_day__crew=crew, crew_day__on=tomorrow()).count() == 2
    assert "2 assigned to Rowan" in shown(response)


@pytest.mark.django_db
def test_who_assigns_sees_what_to_be_careful_about(scheduler):
    # Wind above 20 mph: common practice, no source. An opening without a product for a part: `draw_cautions`.
    (opening,), crew = make_openings(1), CrewFactory(name="Rowan")
    opening.job.forecasts.create(on=tomorrow(), low_f=50, high_f=60, wind_mph=38)
    page = shown(scheduler.post(BOARD, assign_form([opening], crew), follow=True))
    assert "1 assigned to Rowan" in page
    assert "wind of 38 mph is forecast, above the limit of 20 mph" in page
    assert f"{opening.mark}: no product is chosen for sill strip" in page
    board = shown(scheduler.get(BOARD, {"first": tomorrow()}))
    assert "wind of 38 mph" in board
    assert " cautions</summary>" in board
    move = {"act": "move", "assignments": opening.assignments.get().pk, "crew": CrewFactory(name="Elm").pk}
    page = shown(scheduler.post(BOARD, {**move, "on": tomorrow()}, follow=True))
    assert re.search(r"1 moved to Elm on [^.]+\. \d+ cautions: .*wind of 38 mph is forecast", page)


@pytest.mark.django_db
def test_hours_that_do_not_fit_are_refused_with_both_figures_and_what_was_ticked_stays(scheduler):
    openings, crew = make_openings(3), CrewFactory(people_count=1, shift_h=1)
    response = scheduler.post(BOARD, assign_form(openings, crew))
    asked = sum(person_hours(openings).values())
    page = shown(response)
    assert response.status_code == 409
    assert f"has 1 of 1 labor hours free; 3 openings would take {brief(asked)}" in page
    assert page.count(" checked>") == 3
    assert f'<option value="{crew.pk}" selected>' in page
    assert not Assignment.objects.exists()


@pytest.mark.django_db
def test_one_opening_on_hold_refuses_all(scheduler):
    free, held = make_openings(2)
    services.place_hold(opening_id=held.pk, kind=Hold.Kind.ACCESS, reason="scaffold missing", by=PersonFactory())
    response = scheduler.post(BOARD, assign_form([free, held], CrewFactory()))
    assert (response.status_code, Assignment.objects.count()) == (409, 0)
    assert f"{held} is on hold: access" in shown(response)


@pytest.mark.django_db
def test_an_empty_form_names_every_field_that_is_missing(scheduler):
    response = scheduler.post(BOARD, {"act": "assign"})
    assert response.status_code == 400
    for sentence in ("select at least one opening", "<strong>Crew:</strong>", "<strong>Day:</strong>"):
        assert sentence in shown(response)


@pytest.mark.django_db
def test_a_day_in_the_past_is_refused(scheduler):
    response = scheduler.post(BOARD, assign_form(make_openings(1), CrewFactory(), on=tomorrow(-5)))
    assert response.status_code == 400
    assert "is past" in shown(response)


@pytest.mark.django_db
def test_a_withdrawn_opening_is_ready_again(scheduler):
    (opening,), crew = make_openings(1), CrewFactory()
    scheduler.post(BOARD, assign_form([opening], crew))
    assignment = Assignment.objects.get()
    response = scheduler.post(BOARD, {"act": "withdraw", "sure": "yes", "assignments": assignment.pk}, follow=True)
    assert f"{opening} of {opening.job.code} is unassigned" in shown(response)
    assert f'id="opening-{opening.pk}"' in shown(response)


@pytest.mark.django_db
def test_what_is_withdrawn_on_hold_is_not_said_to_be_ready(scheduler):
    (opening,) = make_assigned()
    services.place_hold(opening_id=opening.pk, kind=Hold.Kind.ACCESS, reason="scaffold missing", by=PersonFactory())
    withdraw = {"act": "withdraw", "assignments": opening.assignments.get().pk}
    asked = shown(scheduler.post(BOARD, withdraw))
    assert "It can be assigned again once its hold is released." in asked
    page = shown(scheduler.post(BOARD, {**withdraw, "sure": "yes"}, follow=True))
    assert f"{opening} of {opening.job.code} is unassigned and can be assigned again once its hold is released" in page


@pytest.mark.django_db
def test_a_crew_that_is_too_small_is_refused_in_the_words_of_the_form(scheduler):
    (opening,), crew = make_openings(1, weight_lb=300), CrewFactory(people_count=2)
    page = shown(scheduler.post(BOARD, assign_form([opening], crew)))
    assert "<strong>Why this crew can lift it safely:</strong>" in page
    assert "short crew reason" not in page


@pytest.mark.django_db
def test_a_hold_is_placed_and_released_from_the_board(scheduler):
    opening = OpeningFactory()
    hold = {"act": "hold", "opening": opening.pk, "kind": "weather", "reason": "gale warning"}
    assert "gale warning" in shown(scheduler.post(BOARD, hold, follow=True))
    released = {"act": "release", "hold": Hold.objects.get().pk, "note": "it is calm"}
    assert "hold released (weather)" in shown(scheduler.post(BOARD, released, follow=True))
    assert Hold.objects.get().release_note == "it is calm"


@pytest.mark.django_db
def test_a_second_hold_of_the_same_kind_clashes(scheduler):
    opening = OpeningFactory()
    hold = {"act": "hold", "opening": opening.pk, "kind": "weather", "reason": "gale warning"}
    scheduler.post(BOARD, hold)
    response = scheduler.post(BOARD, hold)
    assert response.status_code == 409
    assert 'value="gale warning"' in shown(response)


@pytest.mark.django_db
def test_days_off_are_named(scheduler):
    CrewFactory(weekdays="12345")
    off = CrewFactory()
    CrewDay.objects.create(crew=off, on=tomorrow(), capacity_person_h=0, off_reason="first aid course")
    page = shown(scheduler.get(BOARD, {"first": tomorrow(), "days": 7}))
    assert page.count("first aid course") == 1
    assert page.count("not a working day") == 2  # ISO 8601: Saturday and Sunday are days 6 and 7 of a week


@pytest.mark.django_db
@pytest.mark.parametrize("asked", ["first=soon", "days=0", "days=32", "job=x", "page=0", "size=wide"])
def test_an_unreadable_span_is_refused(scheduler, asked):
    assert scheduler.get(f"{BOARD}?{asked}").status_code == 400


@pytest.mark.django_db
def test_the_filter_stays_after_an_act(scheduler):
    (opening,), crew = make_openings(1), CrewFactory()
    response = scheduler.post(f"{BOARD}?job={opening.job_id}&days=3", assign_form([opening], crew))
    assert response["Location"] == f"{BOARD}?job={opening.job_id}&days=3#answer"


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("sent", "sentence"),
    [({"act": "fly"}, "this page knows only"), ({"act": "release", "hold": 1, "note": "a\x0bb"}, "control character")],
    ids=["an unknown act", "a control character"],
)
def test_what_no_form_sends_is_refused(scheduler, sent, sentence):
    response = scheduler.post(BOARD, sent)
    assert response.status_code == 400
    assert sentence in shown(response)


@pytest.mark.django_db
def test_stranded_openings_stand_above_the_days_whatever_days_are_shown(scheduler):
    make_crew_day(on=tomorrow(-1))
    (left,) = Assignment.objects.all()
    page = html_of(scheduler.get(BOARD, {"first": tomorrow(20)}))
    assert page.index("Cannot be done as planned") < page.index('class="crews"')
    moved = {"act": "move", "assignments": [left.pk], "crew": CrewFactory().pk, "on": tomorrow()}
    assert "1 moved to" in html_of(scheduler.post(BOARD, moved, follow=True))
    assert "Cannot be done as planned" not in html_of(scheduler.get(BOARD))


@pytest.mark.django_db
def test_a_day_off_that_strands_openings_asks_and_then_says_which(scheduler):
    crew_day = make_crew_day(on=tomorrow())
    (given,) = Assignment.objects.all()
    off = {"act": "set_day", "crew": crew_day.crew_id, "on": tomorrow(), "off_reason": "first aid course"}
    assert "without a crew that day" in html_of(scheduler.post(BOARD, off))
    crew_day.refresh_from_db()
    assert crew_day.off_reason == ""
    page = html_of(scheduler.post(BOARD, off | {"sure": "yes"}, follow=True))
    assert f"Move or unassign: {given.opening.mark} of {given.opening.job.code}" in page
    crew_day.refresh_from_db()
    assert (crew_day.off_reason, crew_day.capacity_person_h) == ("first aid course", 0)


@pytest.mark.django_db
@pytest.mark.parametrize("count", [1, 20])
def test_the_board_takes_as_many_queries_for_many_openings_as_for_one(scheduler, django_assert_num_queries, count):
    crews = CrewFactory.create_batch(count)
    for crew, assigned in zip(crews, make_openings(count), strict=True):
        services.assign(opening_ids=[assigned.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    for held in make_openings(count):
        services.place_hold(opening_id=held.pk, kind=Hold.Kind.OTHER, reason="later", by=None)
    make_openings(count)
    # Session, person; company, crews, its days, days, assignments, details; zones, to assign, number, details, rates,
    # what they wait for, rules; holds, number; zones, stranded, what is to do, its holds, rules, weather, limits; acts
    # and what each gave and took, jobs; cautions of days with openings, no product chosen: days, openings, products,
    # pairs, limits, forecasts.
    with django_assert_num_queries(34):
        page = shown(scheduler.get(BOARD, {"first": tomorrow()}))
    assert page.count('name="assignments"') == page.count('value="release"') == count
    assert page.count("data-person-h") == count


@pytest.mark.django_db
def test_what_upsets_an_issued_sheet_is_asked_first_and_then_undone_as_one(scheduler):
    openings = make_assigned(2)
    crew_day, other = openings[0].assignments.get().crew_day, CrewFactory(name="Elm", people_count=20)
    services.tell_sheet(
        crew_day_id=crew_day.pk,
        sheet="P00012",
        opening_ids=[one.pk for one in openings],
        is_on_truck=False,
        is_to_bring_back=False,
        at=timezone.now(),
    )
    move = {"act": "move", "whole_days": crew_day.pk, "crew": other.pk, "on": tomorrow(2)}
    asked = shown(scheduler.post(BOARD, move))
    assert "Move 2 openings to Elm" in asked
    assert f"Pull sheet P00012 of {crew_day.crew} for" in asked
    assert Assignment.objects.live().filter(crew_day=crew_day).count() == 2
    page = shown(scheduler.post(BOARD, {**move, "sure": "yes"}, follow=True))
    assert "2 moved to Elm" in page
    board_act = re.search(r'name="board_act" value="(\d+)"', page)[1]
    page = shown(scheduler.post(BOARD, {"act": "undo", "board_act": board_act}, follow=True))
    assert "everything is back where it was" in page
    assert Assignment.objects.live().filter(crew_day=crew_day).count() == 2


@pytest.mark.django_db
def test_who_looked_before_somebody_else_changed_the_day_is_told(scheduler):
    first, second = make_assigned(2)
    crew_day, other = first.assignments.get().crew_day, CrewFactory(people_count=20)
    page = shown(scheduler.get(BOARD, {"first": tomorrow()}))
    seen = re.findall(r'name="seen" value="([^"]+)"', page)
    assert len(seen) == 2 * 7  # crews and days
    services.move(assignment_ids=[live(first).pk], crew_id=other.pk, on=tomorrow(), by=PersonFactory(first_name="Dana"))
    sent = {"act": "move", "assignments": live(second).pk, "crew": other.pk, "on": tomorrow(2), "seen": seen}
    refused = scheduler.post(BOARD, sent)
    assert refused.status_code == 412
    assert "changed after you looked (last change by Dana)" in shown(refused)
    assert live(second).crew_day == crew_day
    assert scheduler.post(BOARD, {**sent, "seen": ["1/soon/x"]}).status_code == 400


@pytest.mark.django_db
def test_only_the_cells_that_changed_are_sent_again(scheduler):
    (opening,) = make_assigned()
    day = opening.assignments.get().crew_day
    page = scheduler.get(reverse("crew-board-cells-page"), {"of": f"{day.crew_id}-{day.on:%Y%m%d}"})
    (version,) = re.findall(r'data-version="(\w+)"', shown(page))
    api = scheduler.get("/api/v1/boards/crews/versions/", {"first": str(day.on), "days": 1}).json()
    assert api == [{"crew": day.crew_id, "on": str(day.on), "version": version}]
    assert f'data-version="{version}"' in shown(scheduler.get(BOARD, {"first": day.on}))
    for wrong in ("", "1-20260231", "soon"):
        assert scheduler.get(reverse("crew-board-cells-page"), {"of": wrong}).status_code == 400


@pytest.mark.django_db
def test_the_next_day_with_room_is_named_before_anything_is_assigned(scheduler):
    small, full = CrewFactory(name="Ash", people_count=1, shift_h=1), CrewFactory(name="Elm", people_count=3)
    for days in range(1, 3):
        CrewDay.objects.create(crew=full, on=tomorrow(days), capacity_person_h=0, off_reason="training")
    openings = make_openings(2)
    form = {**assign_form(openings, full), "act": "next_room", "crew": "", "on": tomorrow(0)}
    CrewDay.objects.create(crew=full, on=tomorrow(0), capacity_person_h=1)
    asked = scheduler.post(BOARD, form)
    assert f"Assign 2 openings to Elm on {tomorrow(3):%a, %b} {tomorrow(3).day}?" in shown(asked)
    assert not Assignment.objects.exists()
    scheduler.post(BOARD, {**form, "crew": full.pk, "on": tomorrow(3), "sure": "yes"})
    assert {one.crew_day.on for one in Assignment.objects.all()} == {tomorrow(3)}
    refused = scheduler.post(BOARD, {**form, "crew": small.pk})
    assert "has no day with room for 2 openings" in shown(refused)


@pytest.mark.django_db
def test_ready_openings_are_picked_by_floor_size_and_detail(scheduler):
    (one,) = make_openings(1, floor="Level 2", ro_width_in=40)
    (other,) = make_openings(1, job=one.job, floor="Level 3")
    for asked in ({"floor": "Level 2"}, {"size": "40x54"}, {"detail": one.detail.name}):
        page = shown(scheduler.get(BOARD, {"job": one.job_id, **asked}))
        assert f'id="opening-{one.pk}"' in page
        assert f'id="opening-{other.pk}"' not in page
    assert "No openings to assign match" in shown(scheduler.get(BOARD, {"job": one.job_id, "floor": "Level 9"}))


def sick_crew_day(count: int = 2) -> CrewDay:
    """Return the crew day of a crew that fell ill, with openings assigned."""
    openings = make_assigned(count, crew=CrewFactory(name="Ash", people_count=20))
    crew_day = live(openings[0]).crew_day
    services.change_crew_day(crew_day_id=crew_day.pk, off_reason="sick")
    return crew_day


def offered(page: str) -> list[str]:
    return re.findall(r'name="offer" value="(\w+)"', page)


@pytest.mark.django_db
def test_one_press_mends_the_day_of_a_sick_crew_and_undo_takes_it_back(scheduler):
    other, crew_day = CrewFactory(name="Elm", people_count=20), sick_crew_day()
    page = shown(scheduler.get(BOARD))
    marks = ", ".join(one.opening.mark for one in Assignment.objects.order_by("pk"))
    assert f"Same day, other crews</b>: {marks} to Elm, {tomorrow():%a, %b} {tomorrow().day}" in page
    mend = {"act": "mend", "crew_day": crew_day.pk, "offer": offered(page)[0]}
    page = shown(scheduler.post(BOARD, mend, follow=True))
    assert "2 moved to Elm" in page
    assert "Cannot be done as planned" not in page
    assert Assignment.objects.live().filter(crew_day__crew=other).count() == 2
    again = scheduler.post(BOARD, mend)
    assert again.status_code == 412
    assert "that is offered no more" in shown(again)
    board_act = re.search(r'name="board_act" value="(\d+)"', page)[1]
    scheduler.post(BOARD, {"act": "undo", "board_act": board_act})
    assert Assignment.objects.live().filter(crew_day=crew_day).count() == 2


@pytest.mark.django_db
def test_mending_asks_where_a_sheet_is_issued_and_before_anything_is_unassigned(scheduler):
    CrewFactory(name="Elm", people_count=20)
    crew_day = sick_crew_day()
    services.tell_sheet(
        crew_day_id=crew_day.pk,
        sheet="P00012",
        opening_ids=[one.opening_id for one in Assignment.objects.all()],
        is_on_truck=False,
        is_to_bring_back=False,
        at=timezone.now(),
    )
    first, *_, last = offered(shown(scheduler.get(BOARD)))
    mend = {"act": "mend", "crew_day": crew_day.pk}
    asked = shown(scheduler.post(BOARD, mend | {"offer": first}))
    assert "Move 2 openings to Elm" in asked
    assert "Pull sheet P00012 of Ash" in asked
    assert "They lose their place on that day" in shown(scheduler.post(BOARD, mend | {"offer": last}))
    assert Assignment.objects.live().filter(crew_day=crew_day).count() == 2
    page = shown(scheduler.post(BOARD, mend | {"offer": last, "sure": "yes"}, follow=True))
    assert "are unassigned and can be assigned again" in page
    assert not Assignment.objects.live().exists()


@pytest.mark.django_db
def test_a_unit_that_comes_later_than_its_day_stands_first_on_the_board(scheduler):
    (opening,) = make_assigned()
    services.place_hold(
        opening_id=opening.pk,
        kind=Hold.Kind.UNIT_NOT_ON_SITE,
        reason="truck broke down",
        by=None,
        expected_on=tomorrow(3),
    )
    page = shown(scheduler.get(BOARD))
    assert "unit not on site (truck broke down), expected" in page[page.index("Cannot be done as planned") :]
    assert page.count('name="offer"') == 2  # the next day with room, and unassigning


@pytest.mark.django_db
def test_what_is_expected_in_time_can_be_assigned_for_the_days_after(scheduler):
    late, held = make_openings(2)
    kind, by = Hold.Kind.UNIT_NOT_ON_SITE, PersonFactory()
    services.place_hold(opening_id=late.pk, kind=kind, reason="ordered", by=by, expected_on=tomorrow(2))
    services.place_hold(opening_id=held.pk, kind=Hold.Kind.ACCESS, reason="scaffold missing", by=by)
    page = shown(scheduler.get(BOARD))
    assert f"From {tomorrow(3):%a, %b} {tomorrow(3).day}</b>: unit not on site (ordered), expected" in page
    assert f'id="opening-{held.pk}"' not in page
    crew = CrewFactory(people_count=20)
    assert scheduler.post(BOARD, assign_form([late], crew, on=tomorrow(2))).status_code == 409
    asked = scheduler.post(BOARD, {**assign_form([late], crew), "act": "next_room"})
    assert f"on {tomorrow(3):%a, %b} {tomorrow(3).day}?" in shown(asked)


@pytest.mark.django_db
def test_the_drive_between_two_sites_counts_in_the_cell_in_its_version_and_in_the_next_day_with_room(scheduler):
    crew = CrewFactory(name="Ash", people_count=3, shift_h=10)
    (one,) = make_assigned(crew=crew)
    (other,) = make_openings(1)
    services.assign(opening_ids=[other.pk], crew_id=crew.pk, on=tomorrow(), by=None)
    name = f"{crew.pk}-{tomorrow():%Y%m%d}"

    def cell() -> str:
        return shown(scheduler.get(reverse("crew-board-cells-page"), {"of": name}))

    def version() -> str:
        (day,) = scheduler.get("/api/v1/boards/crews/versions/", {"first": str(tomorrow()), "days": 1}).json()
        return day["version"]

    before = version()
    assert "driving" not in cell()
    SiteDrive.objects.create(site_id=one.job_id, other_id=other.job_id, minutes=30)
    assert "+ 1.5 driving of 30 h" in cell()  # three people, half an hour each
    assert f'data-version="{version()}"' in cell()
    assert version() != before
    (third,) = make_openings(1, job=one.job)
    asked = scheduler.post(BOARD, {**assign_form([third], crew), "act": "next_room"})
    assert "1.5 of them for the drive between the sites" in shown(asked)
