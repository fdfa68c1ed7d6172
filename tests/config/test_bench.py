from __future__ import annotations

import shutil
from contextlib import nullcontext
from functools import partial
from io import BytesIO

import pytest
from openpyxl import load_workbook

from config.bench import (
    ROWS,
    bare_workbook,
    board,
    cut_instances,
    cuts,
    draw,
    formulas,
    growth,
    pull_sheet,
    referee,
    sample,
    scale,
    schedule,
    timing,
)
from config.management.commands import bench
from openings.models import Opening, State
from tests.factories import make_catalogue
from tests.materials.crew_days import make_crew_day, written


@pytest.fixture
def small(monkeypatch):
    """Few rows and one turn of each."""
    monkeypatch.setattr(draw, "OPENINGS", 12)
    monkeypatch.setattr(formulas, "OPENINGS", 12)
    monkeypatch.setattr(growth, "FEW", 12)
    monkeypatch.setattr(schedule, "ROWS", 12)
    monkeypatch.setattr(schedule, "MANY_ROWS", 1_000)
    monkeypatch.setattr(referee, "DAYS", 1)
    monkeypatch.setattr(cut_instances, "KINDS", {"uniform 120": cut_instances.KINDS["uniform 120"]})
    for size in ("DAYS_A_FAMILY", "PRICED_DAYS", "INSTANCES_A_KIND"):
        monkeypatch.setattr(cuts, size, 1)
    monkeypatch.setattr(cuts, "STRIPS", 30)
    monkeypatch.setattr(sample, "CREWS", 1)
    for module in (board, draw, pull_sheet, schedule):
        monkeypatch.setattr(module, "compare", lambda **options: timing.compare(**options | {"turns": 1}))


@pytest.mark.django_db
@pytest.mark.usefixtures("small")
@pytest.mark.parametrize("measure", ROWS)
def test_each_row_measures_both_sides_and_leaves_nothing_behind(measure):
    row = measure()
    assert row.skipped or row.theirs > 0
    assert row.skipped or row.ours > 0 or row.unit not in ("s", "MB")
    assert not Opening.objects.exists()


@pytest.mark.django_db(transaction=True, reset_sequences=True)
def test_years_of_work_are_written_as_the_records_say_and_every_read_answers(monkeypatch):
    monkeypatch.setattr(scale, "TURNS", 1)
    monkeypatch.setattr(scale, "_database", nullcontext)
    found = scale.measure((1_000,), say=lambda sentence: None)
    assert {f"openings, {state}" for state in State.ALL} < {one.name for one in found}
    states = dict(Opening.objects.with_state().values_list("pk", "state"))
    assert len(states) == 1_000
    assert set(Opening.objects.finished().values_list("pk", flat=True)) == {
        pk for pk, state in states.items() if state in (State.DONE, State.VOID)
    }


def test_sides_take_turns_and_each_is_reset_before_it():
    told: list[str] = []
    row = timing.compare(
        name="a",
        reference="b",
        aim=1,
        ours=partial(told.append, "ours"),
        bare=partial(told.append, "bare"),
        reset=partial(told.append, "reset"),
        turns=2,
    )
    assert told == ["reset", "ours", "reset", "bare"] * 2
    assert (row.name, row.reference, row.aim) == ("a", "b", 1)


@pytest.mark.django_db
def test_the_reference_of_pull_sheets_writes_the_same_cells_and_print_layout():
    make_catalogue()
    ours = bytes(written(make_crew_day(openings=2)).workbook)
    bare = bare_workbook.write(bare_workbook.read(ours))
    assert bare_workbook.read(bare) == bare_workbook.read(ours)
    assert [len(list(sheet.iter_rows())) for sheet in load_workbook(BytesIO(bare))] == [
        len(list(sheet.iter_rows())) for sheet in load_workbook(BytesIO(ours))
    ]


def test_rows_are_told_as_a_table_and_as_json():
    row = timing.Row(name="a", reference="b", ours=0.2, theirs=0.1, aim=3)
    assert "2.00 × (aim 3)" in bench._as_table([row])
    assert '"ratio": 2.0' in bench._as_json([row])


def test_the_draw_and_its_reference_calculate_the_same_hours():
    pairs = draw.mixed_pairs(60)
    hours = sum(sum(line.person_h for line in draw.labor_of(*pair)) for pair in pairs)
    assert float(draw.bare_arithmetic(pairs)) == pytest.approx(float(hours), rel=1e-6)


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
def test_the_spreadsheet_calculates_the_same_hours():
    pairs = draw.mixed_pairs(24)
    ours = [float(sum(line.person_h for line in draw.labor_of(*pair))) for pair in pairs]
    assert formulas.recalculated(pairs, program="soffice") == pytest.approx(ours, abs=1e-6)


def test_a_row_that_cannot_be_measured_says_why():
    row = timing.Row(name="a", reference="b", aim=1, skipped="LibreOffice is not installed")
    assert "skipped: LibreOffice is not installed" in bench._as_table([row])
    assert '"ratio": null' in bench._as_json([row])
