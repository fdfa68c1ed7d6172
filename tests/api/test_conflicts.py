"""A clash names the rows it is about, and what was sent together says which of it is wrong."""

from __future__ import annotations

from typing import Any

import pytest

from materials.models import Lot, Place
from openings import services
from openings.models import Assignment
from tests.api.writes import caller
from tests.factories import CrewFactory, PersonFactory, ProductFactory, make_openings, make_stock, tomorrow
from tests.materials.rolls import load, make_sheet, make_strip
from tests.openings.api.clients import API, problem_of
from tests.openings.rows import finish, live, make_assigned, start

pytestmark = pytest.mark.django_db


def _of(*rows: Any) -> list[tuple[str, int]]:
    return [(str(row._meta.verbose_name).replace(" ", "_"), row.pk) for row in rows]


def assigned_twice():
    (opening,) = make_assigned()
    body = {"opening": opening.pk, "crew": CrewFactory(people_count=20).pk, "on": str(tomorrow())}
    return "POST", "assignments/", body, _of(opening)


def on_a_full_day():
    (opening,) = make_openings(1)
    day = CrewFactory(people_count=20).days.create(on=tomorrow(), capacity_person_h=0)
    return "POST", "assignments/", {"opening": opening.pk, "crew": day.crew_id, "on": str(day.on)}, _of(day)


def on_a_day_off():
    (opening,) = make_openings(1)
    day = CrewFactory().days.create(on=tomorrow(), capacity_person_h=0, off_reason="holiday")
    return "POST", "assignments/", {"opening": opening.pk, "crew": day.crew_id, "on": str(day.on)}, _of(day)


def moved_to_the_same_day():
    crew = CrewFactory(people_count=20)
    assignment = live(make_assigned(crew=crew)[0])
    body = {"assignments": [assignment.pk], "crew": crew.pk, "on": str(tomorrow())}
    return "POST", "assignments/move/", body, _of(assignment)


def withdrawn_once_begun():
    (opening,) = make_assigned()
    start(opening)
    return "POST", f"assignments/{live(opening).pk}/withdraw/", {}, _of(opening)


def withdrawn_twice():
    (opening,) = make_assigned()
    assignment = services.withdraw(assignment_id=live(opening).pk, by=PersonFactory())
    return "POST", f"assignments/{assignment.pk}/withdraw/", {}, _of(opening, assignment)


def voided_while_assigned():
    (opening,) = make_assigned()
    return "POST", f"openings/{opening.pk}/void/", {}, _of(opening)


def resized_once_begun():
    (opening,) = make_assigned()
    start(opening)
    return "PATCH", f"openings/{opening.pk}/", {"ro_width_in": 40}, _of(opening)


def held_once_done():
    (opening,) = make_assigned()
    record = start(opening)
    finish(record)
    body = {"opening": opening.pk, "kind": "access", "reason": "stairs"}
    return "POST", "holds/", body, _of(opening, record)


def released_twice():
    hold = make_openings(1)[0].holds.create(kind="access", reason="stairs")
    services.release_hold(hold_id=hold.pk, by=PersonFactory())
    return "POST", f"holds/{hold.pk}/release/", {}, _of(hold)


def recorded_on_hold():
    (opening,) = make_assigned()
    record = start(opening)
    hold = opening.holds.create(kind="access", reason="stairs")
    return "POST", f"install-records/{record.pk}/steps/", {"step": "measure"}, _of(opening, hold)


def loaded_from_what_is_superseded():
    old = make_sheet()
    product = make_strip()
    load(old, product, 1)
    make_sheet(old.crew_day, revision=2)
    line = old.lines.get()
    return "POST", f"pull-sheets/{old.pk}/load/", {"line": line.pk, "packages": 1}, _of(old, line)


def more_than_lies_there():
    product = ProductFactory()
    source = make_stock(product, 5)
    truck = Place.objects.create(kind="truck", name="Truck", crew=CrewFactory())
    body = {"product": product.pk, "source": source.pk, "destination": truck.pk, "packages": 6}
    return "POST", "movements/", body, _of(source, product)


def place_that_history_rests_on():
    place = make_stock(ProductFactory(), 5)
    return "PATCH", f"places/{place.pk}/", {"kind": "scrap"}, _of(place)


def lot_that_history_rests_on():
    product = ProductFactory()
    lot = Lot.objects.create(product=product, code="L1", received_on=tomorrow(-1))
    make_stock(product, 1, lot=lot)
    return "PATCH", f"lots/{lot.pk}/", {"product": ProductFactory().pk}, _of(lot)


def product_that_history_rests_on():
    product = ProductFactory()
    make_stock(product, 1)
    return "PATCH", f"products/{product.pk}/", {"package_quantity": 50}, _of(product)


CLASHES = [
    assigned_twice, on_a_full_day, on_a_day_off, moved_to_the_same_day, withdrawn_once_begun, withdrawn_twice,
    voided_while_assigned, resized_once_begun, held_once_done, released_twice, recorded_on_hold,
    loaded_from_what_is_superseded, more_than_lies_there, place_that_history_rests_on, lot_that_history_rests_on,
    product_that_history_rests_on,
]  # fmt: skip


@pytest.mark.parametrize("clash", CLASHES, ids=lambda clash: clash.__name__)
def test_a_clash_names_the_rows_it_is_about(clash):
    method, path, body, rows = clash()
    answer = getattr(caller(), method.lower())(f"{API}/{path}", body)
    problem = problem_of(answer, 409, answer.json()["code"])
    assert [(one["type"], one["id"]) for one in problem["conflicts"]] == rows
    assert all(one["name"] for one in problem["conflicts"])


def many(openings: list[int], **values: Any) -> dict[str, Any]:
    crew = CrewFactory(people_count=20)
    return {"openings": openings, "crew": crew.pk, "on": str(tomorrow())} | values


def test_of_many_it_is_said_which_cannot_be_assigned_and_nothing_is():
    ready, held, void = make_openings(3)
    held.holds.create(kind="access", reason="stairs")
    services.void_opening(opening_id=void.pk)
    sent = [void.pk, ready.pk, held.pk]
    problem = problem_of(caller().post(f"{API}/assignments/many/", many(sent)), 409, "conflict")
    assert [(fault["item"], fault["field"], fault["value"]) for fault in problem["errors"]] == [
        (0, "openings[0]", str(void.pk)),
        (2, "openings[2]", str(held.pk)),
    ]
    assert [fault["detail"] for fault in problem["errors"]] == [
        f"{void} is void",
        f"{held} is on hold: access (stairs)",
    ]
    assert {one["id"]: one["detail"] for one in problem["conflicts"]} == {
        void.pk: f"{void} is void",
        held.pk: f"{held} is on hold: access (stairs)",
    }
    assert not Assignment.objects.exists()


def test_of_many_it_is_said_which_is_not_there():
    (ready,) = make_openings(1)
    sent = [ready.pk, 999_999]
    problem = problem_of(caller().post(f"{API}/assignments/many/", many(sent)), 404, "not-found")
    assert [(fault["item"], fault["field"]) for fault in problem["errors"]] == [(1, "openings[1]")]
    assert not Assignment.objects.exists()


def test_of_many_it_is_said_which_is_no_id():
    (ready,) = make_openings(1)
    problem = problem_of(caller().post(f"{API}/assignments/many/", many([ready.pk, "x"])), 400, "invalid")
    assert [(fault["item"], fault["field"]) for fault in problem["errors"]] == [(1, "openings.1")]


def test_of_many_it_is_said_which_takes_a_larger_crew():
    light, heavy = (make_openings(1, weight_lb=weight)[0] for weight in (40, 400))
    asked = many([light.pk, heavy.pk], crew=CrewFactory(people_count=1).pk)
    problem = problem_of(caller().post(f"{API}/assignments/many/", asked), 409, "crew-too-small")
    placed = {fault["item"]: fault["field"] for fault in problem["errors"] if "item" in fault}
    assert placed == {item: f"openings[{item}]" for item in placed}
    assert 1 in placed
    assert "short_crew_reason" in [fault["field"] for fault in problem["errors"]]


def test_of_many_it_is_said_which_cannot_be_moved_and_nothing_is():
    crew = CrewFactory(people_count=20)
    assignments = [live(opening) for opening in make_assigned(3, crew=crew)]
    finish(start(assignments[1].opening))
    asked = {"assignments": [one.pk for one in assignments], "crew": crew.pk, "on": str(tomorrow(2))}
    problem = problem_of(caller().post(f"{API}/assignments/move/", asked), 409, "conflict")
    assert [(fault["item"], fault["field"]) for fault in problem["errors"]] == [(1, "assignments[1]")]
    assert problem["conflicts"][0]["id"] == assignments[1].pk
    assert not Assignment.objects.filter(withdrawn_at__isnull=False).exists()
