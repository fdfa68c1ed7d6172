from __future__ import annotations

from io import BytesIO

import pytest
from openpyxl import load_workbook

from jobs.models import CrewDay
from materials.models import DetailProduct, PullSheet
from tests.factories import CrewFactory, make_catalogue, make_stock, tomorrow
from tests.materials.crew_days import make_crew_day, request, written

pytestmark = pytest.mark.django_db

SHEETS = "/api/v1/pull-sheets/"


def ask(client, crew_day: CrewDay):
    return client.post(SHEETS, {"crew": crew_day.crew_id, "on": crew_day.on})


def test_asking_is_202_while_it_is_written_and_200_when_it_stands(warehouse):
    crew_day = make_crew_day()
    first, again = ask(warehouse, crew_day), ask(warehouse, crew_day)
    assert (first.status_code, again.status_code) == (202, 202)
    assert first.json() == again.json()
    assert first.json()["state"] == "pending"
    written(crew_day)
    stands = ask(warehouse, crew_day)
    assert (stands.status_code, stands.json()["state"]) == (200, "written")


@pytest.mark.parametrize(
    ("body", "status", "said"),
    [
        ({"crew": "{crew}", "on": "{on}"}, 409, "nothing that can be set is assigned"),
        ({"crew": "{crew}", "on": "2020-01-02"}, 400, "Thu, Jan 2, 2020 is past: give a day from today"),
        ({"crew": "{crew}", "on": "0001-01-01"}, 400, "is past"),
        ({"crew": "{crew}", "on": "9999-12-31"}, 400, "Fri, Dec 31, 9999 is too far ahead"),
        ({"crew": "{crew}", "on": "tomorrow"}, 400, "on: "),
        ({"crew": "{crew}"}, 400, "on: "),
        ({"crew": 0, "on": "{on}"}, 400, "crew: "),
        ({"crew": 10**25, "on": "{on}"}, 404, "there is no crew"),
        ({"crew": "Alder\x0b", "on": "{on}"}, 400, "control character"),
        ([], 400, ""),
    ],
    ids=["nothing assigned", "past", "year 1", "year 9999", "no date", "no day", "crew 0", "huge", "control", "a list"],
)
def test_what_cannot_be_made_is_told(warehouse, body, status, said):
    crew = CrewFactory()
    if isinstance(body, dict):
        known = {"{crew}": crew.pk, "{on}": str(tomorrow())}
        body = {name: known.get(value, value) for name, value in body.items()}
    answer = warehouse.post(SHEETS, body)
    assert (answer.status_code, answer["Content-Type"]) == (status, "application/problem+json"), answer.content
    assert said in answer.json()["detail"]
    assert not PullSheet.objects.exists()
    assert not CrewDay.objects.exists()


def test_the_workbook_is_downloaded_under_its_number_and_revision(warehouse):
    make_catalogue()
    sheet = written(make_crew_day())
    answer = warehouse.get(f"{SHEETS}{sheet.pk}/workbook/")
    assert answer["Content-Type"] == "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    assert answer["Content-Disposition"] == f'attachment; filename="pull-sheet-{sheet.number}-r1.xlsx"'
    assert load_workbook(BytesIO(answer.content)).sheetnames[:6] == [
        "Cover",
        "Staging",
        "Tools",
        "Roll cuts",
        "Cuts",
        "Openings",
    ]


def test_a_pending_sheet_has_no_workbook_yet(warehouse):
    answer = warehouse.get(f"{SHEETS}{request(make_crew_day()).pk}/workbook/")
    assert answer.status_code == 409
    assert "pending; a worker will write it" in answer.json()["detail"]


def make_line(in_stock: int = 5):
    product = make_catalogue()["sill strip"]
    make_stock(product, in_stock)
    return written(make_crew_day()).lines.get(product=product)


def test_loading_answers_with_the_sheet_and_moves_the_stock(warehouse):
    line = make_line()
    answer = warehouse.post(f"{SHEETS}{line.sheet_id}/load/", {"line": line.pk, "packages": 2})
    assert answer.status_code == 200
    assert {one["id"]: one["loaded_packages"] for one in answer.json()["lines"]}[line.pk] == 2
    stock = {entry["place"]["kind"]: entry["packages"] for entry in warehouse.get("/api/v1/stock/").json()}
    assert stock == {"warehouse": 3, "truck": 2}


@pytest.mark.parametrize(
    ("packages", "status"),
    [(6, 409), (-1, 400), (1.5, 400), ("many", 400), (10**12, 400), (None, 400)],
    ids=["more than there is", "negative", "a part", "words", "absurd", "null"],
)
def test_what_cannot_be_loaded_is_told_and_moves_nothing(warehouse, packages, status):
    line = make_line()
    answer = warehouse.post(f"{SHEETS}{line.sheet_id}/load/", {"line": line.pk, "packages": packages})
    assert answer.status_code == status, answer.json()
    line.refresh_from_db()
    assert line.loaded_packages is None


def test_sheets_are_filtered_by_state_crew_and_day(warehouse):
    sheet = written(make_crew_day())
    request(make_crew_day(on=tomorrow(3)))
    for query in (f"crew_day__crew={sheet.crew_day.crew_id}", f"crew_day__on={tomorrow()}", "state=written"):
        assert [one["id"] for one in warehouse.get(f"{SHEETS}?{query}").json()["results"]] == [sheet.pk]


def test_sheets_are_listed_as_they_were_asked_for_the_last_first_or_by_day(warehouse):
    later, sooner = request(make_crew_day(on=tomorrow(3))), request(make_crew_day())
    for query, listed in ("", [sooner.pk, later.pk]), ("?ordering=-crew_day__on", [later.pk, sooner.pk]):
        assert [one["id"] for one in warehouse.get(f"{SHEETS}{query}").json()["results"]] == listed


@pytest.mark.parametrize("sheets", [1, 12])
def test_the_list_takes_as_many_queries_however_many_sheets(warehouse, django_assert_num_queries, sheets):
    make_catalogue()
    for _ in range(sheets):
        written(make_crew_day())
    with django_assert_num_queries(3):
        listed = warehouse.get(SHEETS).json()
    assert listed["count"] == sheets
    assert "workbook" not in listed["results"][0]


def test_a_superseded_sheet_says_so_and_is_neither_loaded_nor_complete(warehouse):
    make_catalogue()
    crew_day = make_crew_day()
    first = written(crew_day)
    assert warehouse.get(f"{SHEETS}{first.pk}/").json()["superseded"] is False
    make_crew_day(crew=crew_day.crew)
    second = written(crew_day)
    old, new = (warehouse.get(f"{SHEETS}{sheet.pk}/").json() for sheet in (first, second))
    assert (old["state"], old["superseded"], new["superseded"]) == ("written", True, False)
    listed = {one["id"]: one["superseded"] for one in warehouse.get(SHEETS).json()["results"]}
    assert listed == {first.pk: True, second.pk: False}
    names = [warehouse.get(f"{SHEETS}{sheet.pk}/workbook/")["Content-Disposition"] for sheet in (first, second)]
    assert names == [
        f'attachment; filename="pull-sheet-{first.number}-r1-superseded.xlsx"',
        f'attachment; filename="pull-sheet-{first.number}-r2.xlsx"',
    ]
    line = first.lines.first()
    loaded = warehouse.post(f"{SHEETS}{first.pk}/load/", {"line": line.pk, "packages": 1})
    assert (loaded.status_code, "superseded" in loaded.json()["detail"]) == (409, True)


def test_a_sheet_names_the_parts_without_a_product(warehouse):
    make_catalogue()
    DetailProduct.objects.filter(part__in=["shim", "primer", "flange bead"]).delete()
    sheet = warehouse.get(f"{SHEETS}{written(make_crew_day()).pk}/").json()
    assert (sorted(sheet["missing_products"]), sheet["is_complete"]) == (["flange bead", "shim"], False)
    lacks = {line["parts"]: line["lacks"] for line in sheet["lines"] if line["product"] is None}
    assert lacks == {part: f"no product is chosen for {part}" for part in ("flange bead", "shim")}
    assert not any(line["is_loaded"] for line in sheet["lines"])
