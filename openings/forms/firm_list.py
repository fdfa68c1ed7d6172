"""A job or a crew as it stands in a line of a list ⇄ values. Columns are headed as the fields of the forms are."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType
from typing import Any

from django import forms
from django.utils.text import slugify

from jobs.calc.say import zone_name
from jobs.calc.text import has_control
from jobs.errors import Fault
from jobs.forms.crew import CrewForm
from jobs.forms.fields import US_ZONES
from jobs.forms.job import JobForm
from jobs.models import Crew, Job
from openings.calc.firm_list import FirmList, read_clock, read_figure, read_weekdays
from openings.errors import BadList
from openings.forms.listed import ListFileForm, TakeListForm
from openings.schedules import ListedRow

MOST_LINES = 500
"""A firm that starts has fewer jobs and crews (our choice)."""

KINDS = [(FirmList.JOBS.value, "Jobs"), (FirmList.CREWS.value, "Crews")]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rules:
    """What a list of a kind may hold.

    Args:
        form: the form of one, whose fields are the columns; `blank` is what it is made with.
        required: columns that the list must have.
        once: columns of which no two lines may have the same.
        usual: columns that have a usual value where nothing is given.
        also: other headings under which files give the same.
    """

    form: type[forms.Form]
    blank: Callable[[], dict[str, Any]]
    required: Sequence[str]
    once: Sequence[str]
    usual: Sequence[str]
    also: Mapping[str, Sequence[str]]

    @property
    def columns(self) -> dict[str, str]:
        return {name: str(field.label) for name, field in self.form.base_fields.items()}


_RULES: Mapping[FirmList, _Rules] = MappingProxyType({
    FirmList.JOBS: _Rules(
        form=JobForm,
        blank=lambda: {"job": Job()},
        required=("name", "address"),
        once=("code",),
        usual=("cutoff", "time_zone"),
        also={
            "name": ("Name", "Job name", "Site"),
            "code": ("Job code", "Job number"),
            "address": ("Site address", "Street address"),
            "contact_name": ("Contact", "Contact name"),
            "contact_phone": ("Phone", "Contact phone"),
            "gate_note": ("Gate", "Access"),
            "starts_on": ("Start", "Start date"),
            "promised_on": ("Promised", "Promised date"),
            "built_year": ("Built",),
        },
    ),
    FirmList.CREWS: _Rules(
        form=CrewForm,
        blank=lambda: {"crew": Crew()},
        required=("name", "people_count", "truck"),
        once=("name", "truck"),
        usual=("shift_h", "weekdays", "experience"),
        also={
            "name": ("Name", "Crew name"),
            "people_count": ("Crew size", "Size"),
            "payload_lb": ("Payload",),
            "shift_h": ("Shift", "Hours"),
            "weekdays": ("Weekdays", "Days"),
            "skills": ("Skills", "Training"),
        },
    ),
})  # fmt: skip

_ZONES = {
    said: zone
    for zone in reversed(US_ZONES)
    for said in (zone_name(zone).casefold(), zone_name(zone).casefold().split()[0])
} | {"arizona": "America/Phoenix", "arizona time": "America/Phoenix"}
"""A zone by what people call it; of two that are called alike, the one with daylight saving time."""

_AS_TYPED: Mapping[str, Callable[[str], Any]] = {
    "cutoff": read_clock,
    "weekdays": read_weekdays,
    "payload_lb": read_figure,
    "experience": str.casefold,
    "time_zone": lambda text: _ZONES.get(text.casefold(), text),
}

_WRITE: Mapping[str, str] = {
    "cutoff": "this is not a time of day; write one such as 2:00 PM",
    "weekdays": "this names no weekdays; write them like Mon to Fri, or Mon, Wed and Fri",
    "experience": "write professional, experienced or first time",
    "time_zone": "this is no time zone; write one such as Mountain Time",
}
_NO_DAY = "this is no day of the calendar; write one such as 11/30/2026"


class FirmListForm(ListFileForm):
    """A list of jobs or of crews to look at before it is taken."""

    kind = forms.ChoiceField(choices=KINDS, label="What the file lists")
    field_order = ("kind", "file")


class TakeFirmListForm(TakeListForm):
    """The lines of a list that was looked at, and what they list."""

    kind = forms.ChoiceField(choices=KINDS, widget=forms.HiddenInput)


class ExampleOfForm(forms.Form):
    """Of what an example is asked for."""

    example = forms.ChoiceField(choices=KINDS)


@dataclass(frozen=True, slots=True, kw_only=True)
class LinesRead:
    """The lines of a list that can be read, by row, and what is wrong in the others, by row and column."""

    values: Sequence[tuple[int, dict[str, Any]]]
    faults: Sequence[Fault]


def columns_of(kind: FirmList) -> dict[str, str]:
    """Return the heading of each column of a list, in the order of the form."""
    return _RULES[kind].columns


def headings_of(kind: FirmList) -> dict[str, Sequence[str]]:
    """Return all headings under which each column may stand."""
    rules = _RULES[kind]
    return {name: (heading, *rules.also.get(name, ())) for name, heading in rules.columns.items()}


def required_of(kind: FirmList) -> Sequence[str]:
    """Return the columns without which there is no such list."""
    return _RULES[kind].required


def values_of_lines(kind: FirmList, lines: Sequence[ListedRow]) -> LinesRead:
    """Return the values of each line as its form would; what nobody gave and has a usual value is left out.

    Raises:
        BadList: there are too many.
    """
    if len(lines) > MOST_LINES:
        raise BadList(f"the list has {len(lines):,} {kind}; at most {MOST_LINES} are taken at once")
    rules = _RULES[kind]
    values: list[tuple[int, dict[str, Any]]] = []
    faults: list[Fault] = []
    first: dict[tuple[str, str], int] = {}
    for line in lines:
        sent = _sent(rules, line)
        wrong = [*_control(line), *_again(rules, sent, line, first)]
        form = _form(rules, sent)
        if not form.is_valid():
            given = {fault.field for fault in wrong}
            wrong += [fault for fault in _wrong(form, sent, line) if fault.field not in given]
        faults += wrong
        if not wrong:
            values.append((line.row, form.cleaned_data))
    return LinesRead(values=values, faults=faults)


def example_of(kind: FirmList, *, today: date) -> tuple[list[str], list[list[str]]]:
    """Return the headings and some invented lines of a list, which would be taken as they stand."""
    columns = columns_of(kind)
    return [*columns.values()], [[line.get(name, "") for name in columns] for line in _examples(kind, today)]


def _examples(kind: FirmList, today: date) -> list[dict[str, str]]:
    if kind == FirmList.CREWS:
        return [
            {
                "name": "Alder", "people_count": "3", "truck": "Truck 1", "payload_lb": "3500", "shift_h": "8",
                "weekdays": "Mon to Fri", "experience": "professional", "skills": "lead-safe work, boom lift",
            },
            {"name": "Birch", "people_count": "2", "truck": "Truck 2", "weekdays": "Tue to Sat"},
        ]  # fmt: skip
    return [
        {
            "name": "Weir Cottage", "code": "weir-cottage", "address": "2 Weir Lane, Alder Falls, CO",
            "contact_name": "Site office", "contact_phone": "555-0142", "gate_note": "Gate on the lane, ring first",
            "starts_on": f"{today + timedelta(days=14):%m/%d/%Y}",
            "promised_on": f"{today + timedelta(days=45):%m/%d/%Y}",
            "built_year": "1931", "cutoff": "2:00 PM", "time_zone": "Mountain Time",
        },
        {"name": "Quarry Row", "code": "quarry-row", "address": "40 Quarry Row, Alder Falls, CO"},
    ]  # fmt: skip


def _sent(rules: _Rules, line: ListedRow) -> dict[str, Any]:
    sent: dict[str, Any] = {
        name: _AS_TYPED[name](text) if text and name in _AS_TYPED else text for name, text in line.values.items()
    }
    if "code" in rules.columns and not sent.get("code"):
        sent["code"] = slugify(sent.get("name", ""))[:40].strip("-")
    return sent


def _form(rules: _Rules, sent: Mapping[str, Any]) -> forms.Form:
    form = rules.form(sent, **rules.blank())
    for name in rules.usual:
        if not sent.get(name):
            del form.fields[name]
    for name, field in form.fields.items():
        field.error_messages["required"] = "this is empty; fill it in"
        if isinstance(field, forms.DateField):
            field.error_messages["invalid"] = _NO_DAY
        if name in _WRITE:
            field.error_messages |= dict.fromkeys(("invalid", "invalid_choice"), _WRITE[name])
    return form


def _control(line: ListedRow) -> list[Fault]:
    said = "this holds a control character; write plain text"
    return [Fault(field=name, row=line.row, detail=said) for name, text in line.values.items() if has_control(text)]


def _again(rules: _Rules, sent: Mapping[str, Any], line: ListedRow, first: dict[tuple[str, str], int]) -> list[Fault]:
    """Return what an earlier line has already, and note what this one has."""
    faults = []
    for name in rules.once:
        if text := sent.get(name, ""):
            row = first.setdefault((name, text.casefold()), line.row)
            if row != line.row:
                said = f"“{text}” stands in row {row} already; each needs its own"
                faults.append(Fault(field=name, value=text, row=line.row, detail=said))
    return faults


def _wrong(form: forms.Form, sent: Mapping[str, Any], line: ListedRow) -> list[Fault]:
    return [
        Fault(
            field="" if name == "__all__" else name,
            value=line.values.get(name, "") or (sent.get(name, "") if name == "code" else ""),
            row=line.row,
            detail=str(sentence),
        )
        for name, sentences in form.errors.items()
        for sentence in sentences
    ]
