"""The first sheet: who goes where, what changed, and what to be careful about."""

from __future__ import annotations

from textwrap import wrap
from typing import Final

from openpyxl import Workbook

from jobs.calc.say import counted
from materials.workbook.rows import PullSheetBook
from materials.workbook.sheet import Sheet, Value
from materials.workbook.styles import Style
from openings.calc import lift

STANDING_CAUTIONS: Final = (
    (
        "Lifting",
        "Weights marked est. are estimated, not weighed. aid: a lifting aid carries the unit. ask: more may be needed "
        f"than the people given; have it decided by name before it is lifted. {lift.CAUTION}",
    ),
    (
        "Glass",
        "Cut-resistant gloves, sleeves and eye protection. Carry units on edge; nobody stands below or "
        "where a unit could fall.",
    ),
    (
        "Heights",
        "A rough opening is a fall hazard until its unit is anchored. Guards or fall arrest at openings, "
        "ladders, scaffolds and lifts.",
    ),
    (
        "Lead paint",
        "In a building from before 1978, old paint counts as lead paint until a test says otherwise; "
        "work that disturbs it is directed by a certified renovator.",
    ),
    (
        "Anchorage",
        "Hold the unit until it is fastened as the manufacturer's instructions and the approved drawings "
        "require. The straps and fasteners listed here are a draw, not a design.",
    ),
    (
        "Above all",
        "Local code, the manufacturer's instructions and licensed practice come before this sheet. "
        "In doubt, stop and ask.",
    ),
)
"""Lead paint: 40 CFR part 745 subpart E (housing built before 1978). The rest: common practice, no source."""

_WIDTHS: Final = (18, 64, 11)
_LONGEST: Final = 1200
_SIGNATURES: Final = ("Staged by", "Loaded by", "Received by")


def write_cover(workbook: Workbook, *, book: PullSheetBook) -> None:
    """Write the cover of one pull sheet."""
    sheet = Sheet(workbook, title="Cover", footer=book.name, widths=_WIDTHS, head_count=1)
    sheet.write((Style.TITLE, f"Pull sheet {book.name}"))
    _write_day(sheet, book)
    if book.missing:
        _write_missing(sheet, book)
    if book.nothing_to_set or book.bring_back:
        _write_bring_back(sheet, book)
    if book.revision > 1:
        _write_changes(sheet, book)
    _write_jobs(sheet, book)
    _write_notes(sheet, heading="Caution", notes=(*(("Today", text) for text in book.cautions), *STANDING_CAUTIONS))
    _write_signatures(sheet)


def _write_day(sheet: Sheet, book: PullSheetBook) -> None:
    room_person_h = book.capacity_person_h - book.assigned_person_h
    facts: tuple[tuple[str, Style, Value], ...] = (
        ("Crew", Style.FACT, book.crew),
        ("Truck", Style.FACT, book.truck),
        ("Day", Style.FACT_DATE, book.on),
        ("People", Style.FACT, book.people_count),
        ("Assigned", Style.FACT_PERSON_H, book.assigned_person_h),
        ("Capacity", Style.FACT_PERSON_H, book.capacity_person_h),
        ("Room left" if room_person_h >= 0 else "Over capacity", Style.FACT_PERSON_H, abs(room_person_h)),
        ("Written", Style.FACT_TIME, book.written_at),
    )
    for label, style, value in facts:
        sheet.write_pair((Style.HEADING, label), (style, value))


def _write_missing(sheet: Sheet, book: PullSheetBook) -> None:
    _write_notes(
        sheet,
        heading=f"Not complete: {counted(len(book.missing), 'part')} without a product",
        notes=tuple((row.parts, row.note) for row in book.missing),
    )


def _write_changes(sheet: Sheet, book: PullSheetBook) -> None:
    changes = book.changes or ("No change was listed.",)
    _write_notes(
        sheet,
        heading=f"Changed since revision {book.revision - 1}: throw away earlier prints",
        notes=tuple((f"Change {place}", change) for place, change in enumerate(changes, 1)),
    )


def _write_bring_back(sheet: Sheet, book: PullSheetBook) -> None:
    nothing = (("Today", book.nothing_to_set),) if book.nothing_to_set else ()
    back = tuple((f"Bring back {place}", text) for place, text in enumerate(book.bring_back, 1))
    heading = "Bring back" if book.bring_back else "Nothing to set"
    _write_notes(sheet, heading=heading, notes=(*nothing, *back))


def _write_jobs(sheet: Sheet, book: PullSheetBook) -> None:
    sheet.write((Style.GAP, None))
    sheet.write((Style.HEADING, "Job"), (Style.HEADING, "Name and address"), (Style.HEADING, "Openings"))
    for job in book.jobs:
        place = f"{job.name}\n{job.address}"
        sheet.write((Style.STRONG, job.code), (Style.TEXT, place), (Style.COUNT, job.openings_count))
    if not book.jobs:
        sheet.write_pair((Style.STRONG, "None"), (Style.TEXT, "No job is on this sheet."))


def _write_notes(sheet: Sheet, *, heading: str, notes: tuple[tuple[str, str], ...]) -> None:
    sheet.write((Style.GAP, None))
    sheet.write((Style.TITLE, heading))
    for topic, text in notes:
        for place, part in enumerate(_parts(text)):
            sheet.write_pair((Style.STRONG, "" if place else topic), (Style.TEXT, part))


def _parts(text: str) -> list[str]:
    """Return a text in parts that a row can show: no row is higher than 409 pt."""
    if len(text) <= _LONGEST:
        return [text]
    return wrap(text, _LONGEST, break_long_words=False, break_on_hyphens=False)


def _write_signatures(sheet: Sheet) -> None:
    sheet.write((Style.GAP, None))
    sheet.write((Style.HEADING, "Signed"), (Style.HEADING, "Name"), (Style.HEADING, "Time"))
    for role in _SIGNATURES:
        sheet.write((Style.STRONG, role), (Style.WRITE_IN, None), (Style.WRITE_IN, None))
