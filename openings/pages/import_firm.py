"""A list of jobs or crews from a file, with which a firm starts: looked at, then taken."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from decimal import Decimal
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.answer import say
from jobs.calc.say import counted, dated, time_of, weekdays, zone_name
from jobs.errors import Fault
from jobs.models import Crew, Job
from jobs.page import Page, done, entered, may, values_of
from jobs.permissions import OFFICE
from jobs.queries import calendar, today_on_sites
from jobs.signed_in import signed_in
from openings import services
from openings.calc.figures import plain
from openings.calc.firm_list import FirmList
from openings.errors import BadList
from openings.forms import (
    ExampleOfForm,
    FirmListForm,
    TakeFirmListForm,
    columns_of,
    example_of,
    headings_of,
    lines_sent,
    required_of,
    values_of_lines,
)
from openings.schedules import FOR_A_PAGE, ListRead, listed_rows, read_cells, table_csv

LEADS_TO: Mapping[FirmList, str] = {FirmList.JOBS: "jobs-page", FirmList.CREWS: "crews-page"}
CSV = "text/csv; charset=utf-8"


@dataclass(frozen=True, slots=True, kw_only=True)
class LineShown:
    """What a line adds, or what it says where it cannot be taken.

    Args:
        holds: heading and value of each column that has one.
        warning: what speaks against the day promised.
    """

    row: int
    name: str
    does: str
    holds: Sequence[tuple[str, str]]
    warning: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedAt:
    """What a list would add, everything wrong by row, and the form that takes it."""

    kind: FirmList
    lines: Sequence[LineShown]
    faults: Sequence[Fault]
    notes: Sequence[str]
    form: TakeFirmListForm


@Page
def import_firm(request: HttpRequest) -> HttpResponse:
    """A form for a file, or an example of one."""
    if "example" in request.GET:
        return _example(FirmList(values_of(ExampleOfForm(request.GET))["example"]))
    return _show(request, None)


@import_firm.act(by=OFFICE)
def look(request: HttpRequest) -> HttpResponse:
    """Show what the list of a file would add; nothing is written."""
    values = values_of(FirmListForm(request.POST, request.FILES))
    kind, file = FirmList(values["kind"]), values["file"]
    sheets = read_cells(filename=file.name, content=file.read(), budget=FOR_A_PAGE)
    read = listed_rows(sheets, columns=headings_of(kind), required=required_of(kind))
    looked_at = _looked_at(kind, read)
    said = f"{counted(len(looked_at.faults), 'thing')} to correct" if looked_at.faults else "nothing is wrong in it"
    say(request, f"{file.name} is checked: {said}", "found")
    return _show(request, looked_at)


@import_firm.act(by=OFFICE)
def take(request: HttpRequest) -> HttpResponse:
    """Add what was looked at: all of it, or nothing."""
    values = values_of(TakeFirmListForm(request.POST))
    kind = FirmList(values["kind"])
    read = values_of_lines(kind, lines_sent(values["lines"], columns=columns_of(kind)))
    if read.faults:
        faults = _headed(read.faults, columns_of(kind))
        raise BadList(f"nothing was added: {faults[0].detail}", faults=faults)
    added = services.take_firm_list(kind, [row for _, row in read.values])
    return done(request, f"{counted(len(added), kind.one)} added", LEADS_TO[kind])


def _show(request: HttpRequest, looked_at: LookedAt | None) -> HttpResponse:
    if looked_at:
        form = FirmListForm(initial={"kind": looked_at.kind.value})
    else:
        form = FirmListForm(entered(request, "look"), request.FILES)
    return render(
        request,
        "openings/import_firm.html",
        {
            "form": form,
            "looked_at": looked_at,
            "kinds": [(kind, [*columns_of(kind).values()], _required(kind)) for kind in FirmList],
            "may_change": may(signed_in(request), OFFICE),
        },
    )


def _required(kind: FirmList) -> list[str]:
    return [columns_of(kind)[name] for name in required_of(kind)]


def _looked_at(kind: FirmList, read: ListRead) -> LookedAt:
    values = values_of_lines(kind, read.rows)
    outcome = services.try_firm_list(kind, [row for _, row in values.values])
    rows = [row for row, _ in values.values]
    tried = [replace(fault, row=rows[fault.item], item=None) for fault in outcome.faults if fault.item is not None]
    added = {rows[item]: one for item, one in outcome.added.items()}
    headings = columns_of(kind) | dict(read.headings)
    unread = {(fault.row, fault.field) for fault in read.faults}
    others = [fault for fault in _headed([*values.faults, *tried], headings) if (fault.row, fault.field) not in unread]
    faults = [*read.faults, *others]
    wrong = {fault.row for fault in faults}
    days = calendar()
    lines = []
    for line in read.rows:
        one = None if line.row in wrong else added.get(line.row)
        holds = _holds(one, headings) if one else [(headings[name], text) for name, text in line.values.items() if text]
        warning = days.warning(one.promised_on) if isinstance(one, Job) and one.promised_on else ""
        name, does = line.values.get("name", ""), "is added" if one else "cannot be taken"
        lines.append(LineShown(row=line.row, name=name, does=does, holds=holds, warning=warning))
    sent = [[line.row, dict(line.values)] for line in read.rows]
    return LookedAt(
        kind=kind,
        lines=lines,
        faults=sorted(faults, key=lambda fault: fault.row or 0),
        notes=read.notes,
        form=TakeFirmListForm(initial={"kind": kind.value, "lines": sent}),
    )


def _headed(faults: Sequence[Fault], headings: Mapping[str, str]) -> list[Fault]:
    """Return faults by the heading of their column."""
    return [replace(fault, field=headings.get(fault.field, "")) for fault in faults]


def _holds(one: Job | Crew, headings: Mapping[str, str]) -> list[tuple[str, str]]:
    said = ((heading, _said(name, getattr(one, name))) for name, heading in headings.items() if name != "name")
    return [(heading, text) for heading, text in said if text]


def _said(name: str, value: Any) -> str:
    match value:
        case None:
            return ""
        case date():
            return dated(value)
        case time():
            return time_of(value)
        case Decimal():
            return str(plain(value))
        case list():
            return ", ".join(value)
    if name == "weekdays":
        return weekdays(int(digit) for digit in value)
    return zone_name(value) if name == "time_zone" else str(value)


def _example(kind: FirmList) -> HttpResponse:
    headings, lines = example_of(kind, today=today_on_sites())
    headers = {"Content-Disposition": f'attachment; filename="{kind}.csv"'}
    return HttpResponse(table_csv(headings, lines), content_type=CSV, headers=headers)
