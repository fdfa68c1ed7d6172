from __future__ import annotations

import pytest
from django.utils import timezone

from jobs.models import CrewDay
from materials import services
from openings.models import InstallRecord, Opening
from tests.factories import (
    CrewFactory,
    PersonFactory,
    make_catalogue,
    make_openings,
    make_remnant,
    make_stock,
    tomorrow,
)
from tests.materials.crew_days import make_crew_day, written
from tests.openings.rows import mark_finished

pytestmark = pytest.mark.django_db


def openings_of(crew_day: CrewDay) -> list[Opening]:
    return list(Opening.objects.filter(assignments__crew_day=crew_day))


def test_staging_shows_the_newest_sheet_of_each_crew_with_lines_and_cuts(warehouse):
    make_catalogue()
    alder, birch = (make_crew_day(openings=2, crew=CrewFactory(name=name)) for name in ("Alder", "Birch"))
    written(birch)
    written(alder)
    make_crew_day(crew=alder.crew)
    written(alder)
    make_crew_day(crew=alder.crew, on=tomorrow(5))
    board = warehouse.get(f"/api/v1/boards/staging/?on={tomorrow()}").json()
    assert [(one["sheet"]["crew_name"], one["sheet"]["revision"]) for one in board] == [("Alder", 2), ("Birch", 1)]
    (roll,) = [one for one in board[1]["rolls"] if one["product_code"] == "sill-strip"]
    cuts = roll.pop("cuts")
    # Two of 54 in leave 792 in of a roll of 75 ft.
    assert roll == {
        "id": roll["id"],
        "product_code": "sill-strip",
        "number": 1,
        "remnant": None,
        "remnant_code": None,
        "length_in": 900,
        "left_in": 792,
        "came_back_in": None,
    }
    assert {cut.pop("mark") for cut in cuts} == {opening.mark for opening in openings_of(birch)}
    assert {cut.pop("opening") for cut in cuts} == {opening.pk for opening in openings_of(birch)}
    assert cuts == [{"place_in_roll": place, "part": "sill strip", "length_in": 54} for place in (1, 2)]
    sill = next(line for line in board[1]["sheet"]["lines"] if line["product"]["code"] == "sill-strip")
    # AAMA 2400-10 note 3: 36 + 2 × 9 in each.
    assert (sill["quantity"], sill["measure"], sill["packages"], sill["loaded_packages"]) == (108, "in", 1, None)
    assert sill["rolls_lower_bound"] == 1


def test_staging_names_the_remnants_that_are_cut_from(warehouse):
    product = make_catalogue()["sill strip"]
    remnant = make_remnant(product, 60)
    written(make_crew_day())
    (board,) = warehouse.get(f"/api/v1/boards/staging/?on={tomorrow()}&units=metric").json()
    (roll,) = [one for one in board["rolls"] if one["product_code"] == "sill-strip"]
    assert (roll["number"], roll["remnant"], roll["remnant_code"]) == (1, remnant.pk, remnant.code)
    # 54 of 60 in; an inch is 25.4 mm (NIST Handbook 44, appendix C).
    assert (roll["length_mm"], roll["left_mm"], roll["cuts"][0]["length_mm"]) == (1524, 152.4, 1371.6)
    sill = next(line for line in board["sheet"]["lines"] if line["product"]["code"] == "sill-strip")
    assert (sill["packages"], sill["rolls_lower_bound"]) == (0, 0)


def test_without_a_date_staging_shows_the_next_day_that_has_a_sheet(warehouse):
    written(make_crew_day(on=tomorrow(4)))
    (shown,) = warehouse.get("/api/v1/boards/staging/").json()
    assert shown["sheet"]["on"] == str(tomorrow(4))


@pytest.mark.parametrize("on", ["soon", "2027-02-30", "2027-3"])
def test_a_date_that_is_none_is_told(warehouse, on):
    answer = warehouse.get(f"/api/v1/boards/staging/?on={on}")
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == "on"


@pytest.mark.parametrize("crews", [1, 6])
def test_staging_takes_as_many_queries_however_many_crews(warehouse, django_assert_num_queries, crews):
    make_stock(make_catalogue()["sill strip"], 1)
    for _ in range(crews):
        written(make_crew_day(openings=3))
    # Sheets, their lines, their rolls with product and remnant, the cuts of these with opening and job; four of the
    # shortages; what is gone since.
    with django_assert_num_queries(9):
        board = warehouse.get(f"/api/v1/boards/staging/?on={tomorrow()}").json()
    assert len(board) == crews


def finish(opening) -> None:
    by, now = PersonFactory(), timezone.now()
    crew = CrewDay.objects.first().crew
    InstallRecord.objects.create(opening=opening, crew=crew, started_by=by, started_at=now, done_by=by, done_at=now)
    mark_finished()


def test_progress_holds_what_was_loaded_against_what_is_planned(warehouse):
    product = make_catalogue()["sill strip"]
    make_stock(product, 9)
    crew_day = make_crew_day(openings=3)
    sheet = written(crew_day)
    line = sheet.lines.get(product=product)
    services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=2, by=None)
    finish(sheet.openings.first())
    (job,) = warehouse.get("/api/v1/boards/progress/").json()
    assert (job["openings_count"], job["done_count"], job["done_pct"]) == (3, 1, 33)
    (sill,) = [one for one in job["materials"] if one["product"]["code"] == product.code]
    # AAMA 2400-10 note 3: 54 in each, three planned and one done, of rolls of 900 in.
    assert (sill["planned_packages"], sill["planned_done_packages"], sill["loaded_packages"]) == (0.18, 0.06, 2)


def test_what_was_loaded_stays_on_the_board_when_all_is_done(warehouse):
    product = make_catalogue()["sill strip"]
    make_stock(product, 9)
    crew_day = make_crew_day(on=tomorrow(0), openings=2)
    sheet = written(crew_day)
    services.load_line(sheet_id=sheet.pk, line_id=sheet.lines.get(product=product).pk, packages=1, by=None)
    for opening in sheet.openings.all():
        finish(opening)
    assert written(crew_day).revision == 1
    (job,) = warehouse.get("/api/v1/boards/progress/").json()
    assert {one["product"]["code"]: one["loaded_packages"] for one in job["materials"]}[product.code] == 1


def test_a_truck_that_served_two_jobs_is_shared_by_their_openings(warehouse):
    product = make_catalogue()["sill strip"]
    make_stock(product, 9)
    crew_day = make_crew_day(openings=3)
    make_crew_day(openings=1, crew=crew_day.crew)
    sheet = written(crew_day)
    services.load_line(sheet_id=sheet.pk, line_id=sheet.lines.get(product=product).pk, packages=4, by=None)
    board = warehouse.get("/api/v1/boards/progress/").json()
    loaded = [
        one["loaded_packages"] for job in board for one in job["materials"] if one["product"]["code"] == product.code
    ]
    assert loaded == [3, 1]


@pytest.mark.parametrize(("jobs", "openings"), [(1, 1), (3, 20)])
def test_progress_takes_as_many_queries_however_many_jobs_and_openings(
    warehouse, django_assert_num_queries, jobs, openings
):
    make_catalogue()
    for _ in range(jobs):
        make_openings(openings)
        written(make_crew_day(openings=openings))
    # Nine of the openings, the crews that set them and their days included, and five of the materials.
    with django_assert_num_queries(15):
        board = warehouse.get("/api/v1/boards/progress/").json()
    assert sum(job["openings_count"] for job in board) == 2 * jobs * openings
