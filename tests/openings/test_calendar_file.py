"""Calendars as a general library reads them back."""

from __future__ import annotations

import uuid
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import icalendar

from openings.calendar_file import DayEntry, write_calendar

DENVER = ZoneInfo("America/Denver")
NAMESPACE = uuid.UUID("0b0c6f5e-9d5f-4c5e-8a55-0d5c3a1d7a10")


def entry(on: date = date(2026, 11, 30), **values: object) -> DayEntry:
    starts_at = datetime(on.year, on.month, on.day, 7, tzinfo=DENVER)
    given = {
        "key": "crew day 12",
        "starts_at": starts_at,
        "ends_at": starts_at + timedelta(hours=8),
        "title": "2 openings, Weir Cottage",
        "where": "2 Weir Lane, Alder Falls; back gate",
        "text": "Weir Cottage, 2 Weir Lane:\nW3-01\nW3-02",
        "is_cancelled": False,
        "changes": 3,
        "changed_at": datetime(2026, 11, 28, 20, 15, tzinfo=UTC),
    }
    return DayEntry(**{**given, **values})


def read(*entries: DayEntry, namespace: uuid.UUID = NAMESPACE) -> icalendar.Calendar:
    return icalendar.Calendar.from_ical(write_calendar(entries, name="Blue", namespace=namespace))


def test_a_day_is_read_back_as_it_was_written():
    (event,) = read(entry()).events
    assert event.start == datetime(2026, 11, 30, 14, tzinfo=UTC)  # 7:00 AM in Denver, 7 hours behind in winter
    assert event.end == datetime(2026, 11, 30, 22, tzinfo=UTC)
    assert event["DTSTART"].params["TZID"] == "America/Denver"
    assert (event["SUMMARY"], event["LOCATION"]) == ("2 openings, Weir Cottage", "2 Weir Lane, Alder Falls; back gate")
    assert str(event["DESCRIPTION"]).splitlines() == ["Weir Cottage, 2 Weir Lane:", "W3-01", "W3-02"]
    assert (event["SEQUENCE"], event["STATUS"]) == (3, "CONFIRMED")
    assert event["DTSTAMP"].dt == event["LAST-MODIFIED"].dt == datetime(2026, 11, 28, 20, 15, tzinfo=UTC)


def test_the_zone_has_its_rules_in_the_file():
    (zone,) = read(entry(), entry(on=date(2027, 7, 1), key="crew day 13")).timezones
    offsets = zone.to_tz(lookup_tzid=False)
    assert zone["TZID"] == "America/Denver"
    assert datetime(2026, 11, 30, tzinfo=offsets).utcoffset() == timedelta(hours=-7)
    assert datetime(2027, 7, 1, tzinfo=offsets).utcoffset() == timedelta(hours=-6)


def test_what_is_off_is_cancelled_under_the_same_name():
    (before,), (after,) = read(entry()).events, read(entry(is_cancelled=True, changes=4)).events
    assert before["UID"] == after["UID"]
    assert (after["STATUS"], after["SEQUENCE"]) == ("CANCELLED", 4)


def test_another_day_and_another_calendar_have_other_names():
    names = [
        read(entry(key=key), namespace=namespace).events[0]["UID"]
        for key in ("crew day 12", "crew day 13")
        for namespace in (NAMESPACE, uuid.uuid4())
    ]
    assert len(set(names)) == 4


def test_lines_are_folded_and_end_as_the_standard_asks():
    """RFC 5545 section 3.1: lines end in CRLF and hold 75 octets at most."""
    content = write_calendar([entry(title="é" * 200)], name="Blue", namespace=NAMESPACE)
    assert content.count(b"\n") == content.count(b"\r\n")
    assert max(map(len, content.split(b"\r\n"))) <= 75


def test_a_calendar_without_days_is_one():
    assert read().events == []
