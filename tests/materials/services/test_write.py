from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from materials import services
from materials.models import PlannedRoll, PullSheet, PullSheetLine, RollCut
from materials.services import write
from openings.models import Assignment, Hold, InstallationDetail, InstallRecord, Opening
from tests.factories import JobFactory, PersonFactory, make_catalogue, tomorrow
from tests.materials.at_once import at_once
from tests.materials.crew_days import make_crew_day, request, texts, workbook_of, written
from tests.openings.rows import mark_finished


@pytest.mark.django_db
def test_a_sheet_packs_the_day_and_cuts_its_rolls():
    make_catalogue(strip_width_in=9)
    sheet = written(make_crew_day(openings=4))
    # AAMA 2400-10 note 3 and, for the jambs, from memory: 54, 2 × 71 and 54 in for 3046; rolls of 75 ft.
    listed = {line.product.code: (line.quantity, line.packages) for line in sheet.lines.select_related("product")}
    assert listed["sill-strip"] == (4 * 54, 1)
    assert listed["jamb-strip"] == (4 * 142, 1)
    # 6 in up each trimmer: JLC photo guide.
    assert listed["pan-membrane"] == (4 * 48, 1)
    roll = sheet.rolls.get(product__code="jamb-strip")
    # Eight of 71 in are 568 in of 900 in.
    assert (roll.number, roll.remnant, roll.length_in, roll.left_in, roll.came_back_in) == (1, None, 900, 332, None)
    cuts = roll.cuts.values_list("part", "place_in_roll", "length_in")
    assert list(cuts) == [("jamb strip", place, Decimal(71)) for place in range(1, 9)]
    cut_for = set(RollCut.objects.values_list("opening", flat=True))
    assert cut_for == set(sheet.openings.values_list("pk", flat=True))


@pytest.mark.django_db
def test_what_is_cut_has_a_bound_and_nothing_else_has():
    make_catalogue()
    sheet = written(make_crew_day(openings=17))
    bounds = dict(sheet.lines.values_list("product__code", "rolls_lower_bound"))
    # 17 strips of 54 in are 918 in, so more than a roll of 900 in; 34 of 71 in are 2,414 in, so more than two.
    assert (bounds["sill-strip"], bounds["jamb-strip"]) == (2, 3)
    cut = set(sheet.rolls.values_list("product__code", flat=True))
    assert {code for code, bound in bounds.items() if bound is None} == bounds.keys() - cut
    assert cut < bounds.keys()


@pytest.mark.django_db
def test_the_card_of_the_only_detail_takes_the_tools_of_the_day():
    make_catalogue()
    book = workbook_of(written(make_crew_day(openings=2)))
    tools = {tuple(row[1:4]) for row in book["Tools"].iter_rows(min_row=3, values_only=True) if row[3]}
    (card,) = (book[name] for name in book.sheetnames if name.startswith("Card"))
    rows = [tuple(cell for cell in row if cell is not None) for row in card.iter_rows(values_only=True)]
    assert tools
    assert {tuple(fact for fact in tool if fact) for tool in tools} <= set(rows)
    assert ("What the next trade finds",) in rows


@pytest.mark.django_db
def test_lines_and_workbook_say_the_same():
    make_catalogue()
    sheet = written(make_crew_day(openings=2))
    rows = list(workbook_of(sheet)["Staging"].iter_rows(min_row=3, values_only=True))
    assert [(row[2], row[4]) for row in rows] == list(sheet.lines.values_list("product__code", "packages"))
    assert workbook_of(sheet).sheetnames[:6] == ["Cover", "Staging", "Tools", "Roll cuts", "Cuts", "Openings"]
    assert len(list(workbook_of(sheet)["Openings"].iter_rows(min_row=3))) == 2


@pytest.mark.django_db
def test_writing_twice_writes_once():
    make_catalogue()
    sheet = written(make_crew_day())
    lines = sheet.lines.count()
    services.write_pull_sheet(sheet_id=sheet.pk)
    again = PullSheet.objects.get(pk=sheet.pk)
    assert (again.written_at, bytes(again.workbook)) == (sheet.written_at, bytes(sheet.workbook))
    assert again.lines.count() == lines


@pytest.mark.django_db(transaction=True)
def test_two_workers_with_the_same_sheet_write_it_once():
    make_catalogue()
    sheet = request(make_crew_day())
    at_once(*[lambda: services.write_pull_sheet(sheet_id=sheet.pk)] * 3)
    assert PullSheet.objects.get().state == "written"
    assert sheet.lines.filter(product__code="sill-strip").count() == 1
    assert sheet.rolls.filter(product__code="sill-strip").count() == 1


@pytest.mark.django_db
def test_a_workbook_that_fails_leaves_nothing_behind(monkeypatch):
    def out_of_paper(_book: object) -> bytes:
        raise OSError("no space left")

    make_catalogue()
    sheet = request(make_crew_day())
    monkeypatch.setattr(write, "write_workbook", out_of_paper)
    with pytest.raises(OSError, match="no space"):
        services.write_pull_sheet(sheet_id=sheet.pk)
    sheet = PullSheet.objects.get()
    assert (sheet.state, sheet.workbook, sheet.openings.count()) == ("pending", None, 0)
    assert not PullSheetLine.objects.exists()
    assert not PlannedRoll.objects.exists()
    assert not RollCut.objects.exists()
    monkeypatch.undo()
    services.write_pull_sheet(sheet_id=sheet.pk)
    assert PullSheet.objects.get().state == "written"


def _withdraw(opening: Opening) -> None:
    Assignment.objects.filter(opening=opening).update(withdrawn_at=timezone.now())


def _hold(opening: Opening) -> None:
    Hold.objects.create(opening=opening, kind=Hold.Kind.ACCESS, reason="no key")


def _widen(opening: Opening) -> None:
    Opening.objects.filter(pk=opening.pk).update(ro_width_in=48)


def _add_one(opening: Opening) -> None:
    make_crew_day(crew=opening.assignments.get().crew_day.crew, mark="NEW")


def _turn_up_less(opening: Opening) -> None:
    InstallationDetail.objects.filter(pk=opening.detail_id).update(pan_turn_up_in=4)


# AAMA 2400-10 note 3: 54 in of sill strip for 36 in, so 66 in for 48 in; pan 48 in or, 4 in up, 44 in.
@pytest.mark.django_db
@pytest.mark.parametrize(
    ("change", "said"),
    [
        (_withdraw, "{mark} removed"),
        (_hold, "{mark} removed"),
        (_widen, "sill-strip: 10' 0\" needed, was 9' 0\""),
        (_widen, "{mark}: rough opening width 4' 0\", was 3' 0\""),
        (_turn_up_less, "pan-membrane: 7' 4\" needed, was 8' 0\""),
        (_add_one, "NEW added"),
    ],
    ids=["withdrawn", "held", "more strip", "wider", "other detail", "one more"],
)
def test_a_change_makes_a_new_revision_that_says_what_changed(change, said):
    make_catalogue()
    crew_day = make_crew_day(openings=2)
    first = written(crew_day)
    opening = first.openings.first()
    change(opening)
    second = written(crew_day)
    assert (second.revision, second.number) == (2, first.number)
    assert any(said.format(mark=opening.mark) in change for change in second.changes), second.changes
    assert set(second.changes) <= set(texts(workbook_of(second), "Cover"))
    assert request(crew_day) == second


@pytest.mark.django_db
def test_a_day_emptied_after_issue_is_told_to_the_warehouse():
    make_catalogue()
    crew_day = make_crew_day()
    written(crew_day)
    Assignment.objects.update(withdrawn_at=timezone.now())
    second = written(crew_day)
    assert (second.revision, second.state, second.lines.count()) == (2, "written", 0)
    assert "sill-strip no longer needed" in second.changes


@pytest.mark.django_db
def test_a_finished_opening_stays_on_the_sheet_that_lists_it():
    make_catalogue()
    crew_day = make_crew_day(openings=2, on=tomorrow(0))
    sheet = written(crew_day)
    _finish(sheet.openings.first())
    assert request(crew_day) == sheet


@pytest.mark.django_db
def test_an_opening_finished_before_the_first_sheet_is_left_out():
    crew_day = make_crew_day(openings=2)
    first, second = Assignment.objects.all()
    _finish(first.opening)
    assert list(written(crew_day).openings.all()) == [second.opening]


def _finish(opening: Opening) -> None:
    lead, now = PersonFactory(), timezone.now()
    InstallRecord.objects.create(
        opening=opening,
        crew=opening.assignments.get().crew_day.crew,
        started_by=lead,
        started_at=now,
        done_by=lead,
        done_at=now,
    )
    mark_finished()


@pytest.mark.django_db
def test_a_held_opening_is_left_out_with_a_caution():
    crew_day = make_crew_day(openings=2)
    held = Opening.objects.first()
    _hold(held)
    sheet = written(crew_day)
    assert held not in sheet.openings.all()
    said = f"{held.job.code} {held.mark} is on hold and left out of this sheet."
    assert any(text.startswith(said) for text in texts(workbook_of(sheet), "Cover"))


# 40 CFR 745 subpart E applies to housing built before 1978, from memory.
@pytest.mark.django_db
@pytest.mark.parametrize(("built_year", "is_cautioned"), [(1977, True), (1978, False), (None, False)])
def test_a_house_from_before_1978_carries_the_lead_paint_caution(built_year, is_cautioned):
    sheet = written(make_crew_day(job=JobFactory(code="weir", built_year=built_year)))
    cautions = [text for text in texts(workbook_of(sheet), "Cover") if text.startswith("weir was built in")]
    assert len(cautions) == is_cautioned


@pytest.mark.django_db
@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "=cmd|'/c calc'!A0"])
def test_text_that_looks_like_a_formula_stays_text(text):
    job = JobFactory(name=text, address=text)
    sheet = written(make_crew_day(job=job, mark=text, remarks=text, floor=text))
    workbook = workbook_of(sheet)
    cells = [cell for title in ("Cover", "Openings") for row in workbook[title].iter_rows() for cell in row]
    assert {cell.data_type for cell in cells if str(cell.value).startswith(text)} == {"s"}
    assert texts(workbook, "Openings").count(text) == 3


@pytest.mark.django_db
def test_the_cover_shows_the_time_of_the_job():
    sheet = written(make_crew_day(job=JobFactory(time_zone="America/Chicago")))
    local = sheet.written_at.astimezone(ZoneInfo("America/Chicago"))
    (shown,) = [
        cell.value
        for row in workbook_of(sheet)["Cover"].iter_rows()
        for cell in row
        if isinstance(cell.value, datetime) and cell.value.date() != sheet.crew_day.on
    ]
    assert abs(shown - local.replace(tzinfo=None)).total_seconds() < 1


@pytest.mark.django_db
@pytest.mark.parametrize("openings", [1, 40])
def test_writing_takes_as_many_queries_however_many_openings(django_assert_num_queries, openings):
    make_catalogue()
    sheet = request(make_crew_day(openings=openings))
    # The sheet with its crew day; its digest; five to put it together; remnants, of which there are none. Then a
    # savepoint and its release; the sheet locked; its digest again; remnants locked, of which there are none; lines,
    # rolls, cuts, openings and the sheet saved; seven to tell what the sheet binds.
    with django_assert_num_queries(27):
        services.write_pull_sheet(sheet_id=sheet.pk)
