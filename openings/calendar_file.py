"""Writing days as a calendar that other programs read: RFC 5545. Knows no framework and no model."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from icalendar import Calendar, Event

PROGRAM = "-//Weatherlap//Crew days//EN"


@dataclass(frozen=True, slots=True, kw_only=True)
class DayEntry:
    """One day of a crew as a calendar shows it.

    Args:
        key: names the day within its calendar, for ever.
        starts_at, ends_at: in the zone of the site.
        where: the address of the site.
        text: what there is to do, a line each.
        is_cancelled: nothing is to be done on this day any more.
        changes: how often the day was changed; it only grows.
        changed_at: when it was changed last.
    """

    key: str
    starts_at: datetime
    ends_at: datetime
    title: str
    where: str
    text: str
    is_cancelled: bool
    changes: int
    changed_at: datetime


def write_calendar(entries: Sequence[DayEntry], *, name: str, namespace: uuid.UUID) -> bytes:
    """Return a calendar of days, with the rules of every time zone in it.

    Args:
        name: what the calendar is called.
        namespace: of its UIDs; the same key keeps its UID as long as the namespace is the same.

    Source:
        RFC 5545: 3.6.1 "Event Component", 3.6.5 "Time Zone Component", 3.8.1.11 "Status", 3.8.4.7 "Unique Identifier",
        3.8.7.2 "Date-Time Stamp", 3.8.7.4 "Sequence Number"; RFC 7986: 5.1 "NAME", 5.7 "REFRESH-INTERVAL".
    """
    calendar = Calendar()
    calendar.add("prodid", PROGRAM)
    calendar.add("version", "2.0")
    calendar.add("name", name)
    calendar.add("x-wr-calname", name)  # what most programs read in place of NAME
    calendar.add("refresh-interval;value=duration", "PT1H")
    for entry in entries:
        calendar.add_component(_event(entry, namespace))
    if entries:
        days = sorted(entry.starts_at.date() for entry in entries)
        calendar.add_missing_timezones(
            first_date=days[0].replace(month=1, day=1), last_date=days[-1].replace(year=days[-1].year + 1)
        )
    return bytes(calendar.to_ical())


def _event(entry: DayEntry, namespace: uuid.UUID) -> Event:
    event = Event()
    event.add("uid", str(uuid.uuid5(namespace, entry.key)))
    event.add("dtstamp", entry.changed_at.astimezone(UTC))
    event.add("last-modified", entry.changed_at.astimezone(UTC))
    event.add("sequence", entry.changes)
    event.add("status", "CANCELLED" if entry.is_cancelled else "CONFIRMED")
    event.add("dtstart", entry.starts_at)
    event.add("dtend", entry.ends_at)
    event.add("summary", entry.title)
    event.add("location", entry.where)
    event.add("description", entry.text)
    return event
