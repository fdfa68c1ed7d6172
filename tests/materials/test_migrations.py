"""What migrations make of rows that were written before them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.apps.registry import Apps
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

BEFORE, ROLLS = ("materials", "0002_limits_and_evidence"), ("materials", "0003_rolls_and_remnants")


def migrated_to(target: tuple[str, str]) -> Apps:
    """Return the models as they were after a migration, and the tables too; the end of the test takes it back."""
    connection.check_constraints()  # no table is altered while checks of its rows wait
    return MigrationExecutor(connection).migrate([target]).apps


@pytest.fixture
def sheet_of(db: None) -> Callable[[int], Any]:
    """Return a function that makes a written sheet, so many days from today, as it was before there were rolls."""
    models = migrated_to(BEFORE)
    strip = models.get_model("materials", "Product").objects.create(
        code="strip", name="Strip", measure="in", package="roll", package_quantity=900, trim_in="0.25"
    )
    job = models.get_model("jobs", "Job").objects.create(code="weir", name="Weir Cottage")
    detail = models.get_model("openings", "InstallationDetail").objects.create(
        job=job, name="flange", mounting="flange", barrier_before_window=True
    )
    opening = models.get_model("openings", "Opening").objects.create(
        job=job, detail=detail, mark="W1", schedule_mark="W1", position=1,
        ro_width_in=36, ro_height_in=54, unit_width_in="35.5", unit_height_in="53.5",
    )  # fmt: skip
    crew = models.get_model("jobs", "Crew").objects.create(name="Rowan", people_count=3)

    def make(days: int, *rolls: tuple[int, ...]) -> int:
        now = timezone.now()
        day = models.get_model("jobs", "CrewDay").objects.create(
            crew=crew, on=now.date() + timedelta(days=days), capacity_person_h=24
        )
        sheet = models.get_model("materials", "PullSheet").objects.create(
            crew_day=day, state="written", requested_at=now, written_at=now, basis="as planned", workbook=b"a workbook"
        )
        for roll, lengths_in in enumerate(rolls, start=1):
            for place, length_in in enumerate(lengths_in, start=1):
                models.get_model("materials", "RollCut").objects.create(
                    sheet=sheet, product=strip, roll=roll, place_in_roll=place, opening=opening, part="sill strip",
                    length_in=length_in,
                )  # fmt: skip
        return sheet.pk

    return make


def test_cuts_of_sheets_written_before_lie_on_rolls_afterwards(sheet_of):
    ahead, past = sheet_of(2, (71, 54), (54,), (900,)), sheet_of(-2, (54,))
    models = migrated_to(ROLLS)
    rolls = models.get_model("materials", "PlannedRoll").objects.order_by("sheet", "number")
    # Each cut takes its length and the trim of 0.25 in, but for a trim that the end of the roll saves; a truck that
    # is back brought nothing of which anybody was told.
    assert list(rolls.values_list("sheet", "number", "remnant", "length_in", "left_in", "came_back_in")) == [
        (ahead, 1, None, 900, 774.5, None),
        (ahead, 2, None, 900, 845.75, None),
        (ahead, 3, None, 900, 0, None),
        (past, 1, None, 900, 845.75, 0),
    ]
    cuts = models.get_model("materials", "RollCut").objects.order_by("roll__sheet", "roll__number", "place_in_roll")
    assert list(cuts.values_list("roll__sheet", "roll__number", "place_in_roll", "part", "length_in")) == [
        (ahead, 1, 1, "sill strip", 71),
        (ahead, 1, 2, "sill strip", 54),
        (ahead, 2, 1, "sill strip", 54),
        (ahead, 3, 1, "sill strip", 900),
        (past, 1, 1, "sill strip", 54),
    ]


def test_what_newest_sheets_list_and_what_is_on_trucks_is_told_afterwards(sheet_of):
    sheets = {kind: sheet_of(days) for days, kind in enumerate(("issued", "loaded", "back"), start=1)}
    models = migrated_to(("materials", "0006_history_keeps_its_meaning"))
    get = models.get_model
    opening, strip = get("openings", "Opening").objects.get(), get("materials", "Product").objects.get()
    written = get("materials", "PullSheet").objects.in_bulk(sheets.values())
    for sheet in written.values():
        sheet.openings.add(opening.pk)
        packages = 1 if sheet.pk != sheets["issued"] else None
        get("materials", "PullSheetLine").objects.create(
            sheet=sheet, product=strip, parts="sill strip", quantity=54, measure="in", packages=1,
            loaded_packages=packages,
        )  # fmt: skip
    get("materials", "PlannedRoll").objects.create(
        sheet=written[sheets["back"]], product=strip, number=1, length_in=900, left_in=800, came_back_in=800
    )
    place = get("materials", "Place").objects.create
    warehouse = place(kind="warehouse", name="Warehouse")
    truck = place(kind="truck", name="Truck", crew=written[sheets["loaded"]].crew_day.crew)
    supplier = place(kind="supplier", name="Supplier")
    move = get("materials", "Movement").objects.create
    move(product=strip, source=supplier, destination=warehouse, packages=2)
    number = f"P{written[sheets['loaded']].crew_day_id:05d}"
    load = move(product=strip, source=warehouse, destination=truck, packages=1, reason=f"{number} revision 1")
    told = migrated_to(("materials", "0007_tell_what_is_on_trucks")).get_model("openings", "OnSheet").objects
    assert {row.crew_day_id: (row.opening_id, row.on_truck_since) for row in told.all()} == {
        written[sheets["issued"]].crew_day_id: (opening.pk, None),
        written[sheets["loaded"]].crew_day_id: (opening.pk, load.moved_at),
        written[sheets["back"]].crew_day_id: (opening.pk, None),
    }
    assert told.get(crew_day=written[sheets["loaded"]].crew_day_id).sheet == number
