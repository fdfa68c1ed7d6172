"""Sheets of days that are off or emptied, and of openings that are moved or carried on."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.utils import timezone

from jobs.errors import DayOff
from jobs.models import CrewDay
from materials import services
from materials.models import PullSheet, PullSheetLine, Remnant
from materials.queries import shortages, staging_board, staging_on
from openings import services as openings
from openings.calc.lay_order import steps_for
from openings.models import Assignment
from tests.factories import (
    CrewFactory,
    PersonFactory,
    make_catalogue,
    make_openings,
    make_remnant,
    make_stock,
    tomorrow,
)
from tests.materials.crew_days import make_crew_day, request, texts, workbook_of, written
from tests.old_rows import rewrite
from tests.openings.rows import finish, left_over, live, start

pytestmark = pytest.mark.django_db


def set_off(crew_day: CrewDay, reason: str = "two are sick") -> None:
    openings.change_crew_day(crew_day_id=crew_day.pk, off_reason=reason)


def by_clock() -> list[PullSheet]:
    """Return the sheets that the minute's task asks for, written."""
    ids = services.request_due_pull_sheets(now=timezone.now())
    for sheet_id in ids:
        services.write_pull_sheet(sheet_id=sheet_id)
    return list(PullSheet.objects.filter(pk__in=ids))


def quantities(sheet: PullSheet) -> dict[str, Decimal]:
    return dict(sheet.lines.filter(quantity__gt=0).values_list("parts", "quantity"))


@pytest.fixture
def catalogue():
    return make_catalogue()


def issued_with_remnant(catalogue) -> tuple[CrewDay, PullSheet]:
    """Return a crew day whose issued sheet counts on a remnant and has two boxes of straps or shims loaded."""
    make_stock(catalogue["shim"], 5)
    remnant = make_remnant(catalogue["sill strip"], 200)
    crew_day = make_crew_day(openings=2, crew=CrewFactory(name="Rowan"))
    sheet = written(crew_day)
    remnant.refresh_from_db()
    assert remnant.reserved_for == crew_day
    line = sheet.lines.get(product=catalogue["shim"])
    services.load_line(sheet_id=sheet.pk, line_id=line.pk, packages=2, by=None)
    return crew_day, sheet


@pytest.mark.parametrize("how", ["clock", "request"])
@pytest.mark.parametrize("why", ["off", "emptied"])
def test_a_day_that_sets_nothing_says_what_to_bring_back_and_frees_what_it_held(catalogue, how, why):
    crew_day, _ = issued_with_remnant(catalogue)
    if why == "off":
        set_off(crew_day)
    else:
        for assignment in Assignment.objects.all():
            openings.withdraw(assignment_id=assignment.pk, by=PersonFactory())
    (second,) = by_clock() if how == "clock" else [written(CrewDay.objects.get(pk=crew_day.pk))]

    assert (second.revision, second.state, second.openings.count()) == (2, "written", 0)
    (line,) = second.lines.all()
    assert (line.product, line.packages, line.quantity, line.loaded_packages) == (catalogue["shim"], 0, 0, 2)
    assert second.rolls.count() == 0
    assert not Remnant.objects.filter(reserved_for__isnull=False).exists()
    assert shortages() == []
    cover = texts(workbook_of(second), "Cover")
    assert "2 boxes of shim: needed no more" in cover
    said = "Rowan is off this day: two are sick. Nothing is set." if why == "off" else "No opening that can be set"
    assert any(text.startswith(said) for text in cover)

    (truck,) = staging_on(tomorrow()).trucks
    assert [(staged.line.packages, staged.bring_back) for staged in truck.lines] == [(0, 2)]
    assert by_clock() == []
    assert request(CrewDay.objects.get(pk=crew_day.pk)) == second


def test_a_day_off_without_a_sheet_gets_none():
    crew_day = make_crew_day()
    set_off(crew_day)
    with pytest.raises(DayOff, match="two are sick"):
        request(crew_day)
    assert by_clock() == []


def test_a_day_that_is_worked_again_gets_its_sheet_again(catalogue):
    crew_day, first = issued_with_remnant(catalogue)
    set_off(crew_day)
    by_clock()
    openings.change_crew_day(crew_day_id=crew_day.pk, off_reason="")
    (third,) = by_clock()
    assert quantities(third) == quantities(first)


def test_what_was_done_before_the_crew_went_off_stays_on_the_sheet(catalogue):
    crew_day = make_crew_day(openings=2, on=tomorrow(0))
    written(crew_day)
    first, _ = (assignment.opening for assignment in Assignment.objects.order_by("pk"))
    finish(start(first))
    set_off(crew_day, "one was hurt")
    second = written(CrewDay.objects.get(pk=crew_day.pk))
    assert list(second.openings.all()) == [first]
    assert any("one was hurt. Nothing more is set." in text for text in texts(workbook_of(second), "Cover"))


def test_a_moved_opening_is_staged_once(catalogue):
    crew_day, other = make_crew_day(crew=CrewFactory()), CrewFactory()
    first = written(crew_day)
    (given,) = Assignment.objects.all()
    openings.move(assignment_ids=[given.pk], crew_id=other.pk, on=tomorrow(), by=PersonFactory())
    (truck,) = [truck for truck in staging_on(tomorrow()).trucks if truck.crew_day == crew_day]
    assert truck.gone == (f"{given.opening.mark} of {given.opening.job.code}",)
    assert staging_board(tomorrow())[0]["gone"] == list(truck.gone)
    by_clock()
    moved = written(live(given.opening).crew_day)
    assert quantities(moved) == quantities(first)
    listed = PullSheetLine.objects.filter(sheet__in=[entry["sheet"] for entry in staging_board(tomorrow())])
    assert sum(line.quantity for line in listed) == sum(quantities(first).values())


def test_what_is_carried_on_is_drawn_as_far_as_it_is_not_laid(catalogue):
    (opening,) = make_openings(1)
    whole = written(make_crew_day(crew=CrewFactory()))
    begun = left_over(opening, CrewFactory(), steps=6)
    laid = set(opening.install_record.steps.values_list("step", flat=True))
    assert laid == {"fold-barrier", "sill-strip", "corner-pieces", "pan", "setting-bead", "set-unit"}
    (given,) = openings.move(assignment_ids=[begun.pk], crew_id=CrewFactory().pk, on=tomorrow(), by=PersonFactory())
    sheet = written(given.crew_day)
    gone = {"sill strip", "corner piece", "pan membrane", "flange bead"}
    assert quantities(sheet) == {part: drawn for part, drawn in quantities(whole).items() if part not in gone}
    assert gone <= quantities(whole).keys()
    assert not {cut.part for roll in sheet.rolls.all() for cut in roll.cuts.all()} & gone
    (row,) = [text for text in texts(workbook_of(sheet), "Openings") if "begun before" in text]
    assert "6 of" in row
    assert "go on with: Shim level, plumb and square" in row


def test_the_sheets_of_an_opening_that_is_carried_on_draw_it_once(catalogue):
    crew_day, other = make_crew_day(on=tomorrow(0)), CrewFactory()
    whole = quantities(written(crew_day))
    (given,) = Assignment.objects.all()
    record = start(given.opening)
    steps = [step.code for step in steps_for(given.opening.detail.as_facts())]
    for step in steps[:8]:
        openings.record_step(record_id=record.pk, step=step, by=record.started_by)
    openings.move(assignment_ids=[given.pk], crew_id=other.pk, on=tomorrow(0), by=PersonFactory())

    by_clock()
    first, second = (written(day) for day in (crew_day, live(given.opening).crew_day))
    assert list(first.openings.all()) == list(second.openings.all()) == [given.opening]
    assert {"sill strip", "shim", "flange fastener"} <= quantities(first).keys()
    assert {"jamb strip", "head strip", "air seal bead"} <= quantities(second).keys()
    assert quantities(first) | quantities(second) == whole
    assert not quantities(first).keys() & quantities(second).keys()
    remarks = texts(workbook_of(first), "Openings")
    assert f"8 of {len(steps)} steps were laid; it is carried on elsewhere" in remarks
    assert "No opening that can be set is assigned to this day. Nothing is set." in texts(workbook_of(first), "Cover")
    assert by_clock() == []
    assert [truck.gone for truck in staging_on(tomorrow(0)).trucks] == [(), ()]


def test_what_a_crew_laid_before_it_was_set_off_stays_on_its_sheet(catalogue):
    crew_day = make_crew_day(on=tomorrow(0))
    whole = quantities(written(crew_day))
    (given,) = Assignment.objects.all()
    record = start(given.opening)
    steps = [step.code for step in steps_for(given.opening.detail.as_facts())]
    for step in steps[:4]:
        openings.record_step(record_id=record.pk, step=step, by=record.started_by)
    set_off(crew_day)
    (sheet,) = by_clock()
    laid = quantities(sheet)
    assert "sill strip" in laid
    assert laid.items() < whole.items()
    assert f"4 of {len(steps)} steps were laid; the rest waits to be carried on" in texts(
        workbook_of(sheet), "Openings"
    )
    assert by_clock() == []

    openings.move(assignment_ids=[given.pk], crew_id=CrewFactory().pk, on=tomorrow(0), by=PersonFactory())
    again = written(crew_day)
    assert quantities(again) == laid
    assert f"4 of {len(steps)} steps were laid; it is carried on elsewhere" in texts(workbook_of(again), "Openings")


def test_what_is_laid_on_the_day_itself_stays_on_its_sheet(catalogue):
    crew_day = make_crew_day(on=tomorrow(0))
    sheet = written(crew_day)
    record = start(Assignment.objects.get().opening)
    openings.record_step(record_id=record.pk, step="fold-barrier", by=record.started_by)
    openings.record_step(record_id=record.pk, step="sill-strip", by=record.started_by)
    assert request(crew_day) == sheet


def test_what_is_laid_ahead_of_its_day_is_drawn_no_more(catalogue):
    crew_day = make_crew_day(on=tomorrow(2))
    first = written(crew_day)
    record = start(Assignment.objects.get().opening)
    for step in ("fold-barrier", "sill-strip"):
        openings.record_step(record_id=record.pk, step=step, by=record.started_by)
    second = written(crew_day)
    assert quantities(first).keys() - quantities(second).keys() == {"sill strip"}


def test_a_past_day_that_set_nothing_frees_its_remnants(catalogue):
    remnant = make_remnant(catalogue["sill strip"], 200)
    crew_day = make_crew_day()
    written(crew_day)
    rewrite(CrewDay.objects.filter(pk=crew_day.pk), on=tomorrow(-3))
    assert by_clock() == []
    remnant.refresh_from_db()
    assert remnant.reserved_for == crew_day
    set_off(crew_day)
    assert [sheet.revision for sheet in by_clock()] == [2]
    remnant.refresh_from_db()
    assert remnant.reserved_for is None
    assert by_clock() == []


def test_a_crew_too_small_for_a_unit_is_warned_with_who_decided(catalogue):
    heavy, other = make_openings(2, weight_lb=400)
    crew, by = CrewFactory(name="Cedar", people_count=2), PersonFactory(first_name="Tamsin", last_name="Oakhollow")
    (given,) = openings.assign(
        opening_ids=[heavy.pk], crew_id=crew.pk, on=tomorrow(), by=by, short_crew_reason="a crane is there"
    )
    Assignment.objects.create(opening=other, crew_day=given.crew_day, person_h=3)
    cover = texts(workbook_of(written(given.crew_day)), "Cover")
    takes = "weighs 400 lb and takes a lifting aid and 3 people to guide it; Cedar has 2 people."
    decided = "Tamsin Oakhollow decided that it goes all the same: a crane is there."
    assert f"{heavy.job.code} {heavy.mark} {takes} {decided}" in cover
    assert any(text.startswith(f"{other.job.code} {other.mark} {takes} Nobody has decided") for text in cover)
