"""The columns that verbs take by name, so that a name or a value that no column has is seen before anything runs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, time
from decimal import Decimal
from typing import TypedDict


class JobValues(TypedDict, total=False):
    """Columns of a job that a person gives."""

    code: str
    name: str
    address: str
    time_zone: str
    cutoff: time
    starts_on: date | None
    promised_on: date | None
    built_year: int | None
    contact_name: str
    contact_phone: str
    gate_note: str
    latitude: Decimal | None
    longitude: Decimal | None


class CrewValues(TypedDict, total=False):
    """Columns of a crew that a person gives."""

    name: str
    truck: str
    people_count: int
    shift_h: Decimal
    weekdays: str
    experience: str
    payload_lb: Decimal | None
    skills: Sequence[str]


class CompanyValues(TypedDict, total=False):
    """Columns of the company."""

    name: str
    us_state: str
    time_zone: str
    default_cutoff: time
    default_shift_h: Decimal
    yard_address: str
    yard_latitude: Decimal | None
    yard_longitude: Decimal | None
