"""Dates, times, zones and counts as people on a US site say them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date, datetime, time
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

_WEEKDAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_IRREGULAR: Final = {"person": "people", "is": "are", "was": "were", "stands": "stand", "it": "them"}
_HISSING: Final = ("s", "x", "ch", "sh")
_UNITS: Final = re.compile(r"_(?:lb_per_(?:ft|in)|in|ft|sqft|lb|psf|f|deg|pct|h)$")
_WHOLE_WORDS: Final = {
    "barrier": "WRB",
    "ro": "rough opening",
    "storeys": "stories",
    "lites": "glass",
    "is": "",
    "has": "",
}


def plural(word: str, count: int | Decimal) -> str:
    """Return a noun, or one of a few verbs, in the number that `count` asks for.

    >>> plural("box", 2), plural("opening", 1), plural("person", 3), plural("is", 2)
    ('boxes', 'opening', 'people', 'are')
    """
    if count == 1:
        return word
    return _IRREGULAR.get(word) or f"{word}{'es' if word.endswith(_HISSING) else 's'}"


def counted(count: int, noun: str) -> str:
    """Return a number of things in words.

    >>> counted(1, "opening"), counted(1200, "opening"), counted(0, "roll")
    ('1 opening', '1,200 openings', '0 rolls')
    """
    return f"{count:,} {plural(noun, count)}"


_FIELDS: Final = {
    "allowable_lb": "allowable load",
    "built_ro_height_in": "rough opening height as built",
    "built_ro_width_in": "rough opening width as built",
    "firwl_lb": "frequency-independent RWL",
    "horizontal_in": "horizontal reach",
    "is_egress": "emergency escape",
    "lifts_per_min": "number of lifts a minute",
    "max_application_temp_f": "highest application temperature",
    "min_application_temp_f": "lowest application temperature",
    "pan_turn_up_in": "pan turn-up",
    "serves_from_in": "smallest size served",
    "serves_up_to_in": "largest size served",
    "vertical_in": "height of the hands",
    "username": "signs in as",
    "work_min": "time at work",
}


def and_list(names: Sequence[str], *, between: str = "; ") -> str:
    """Return names as a sentence lists them.

    >>> and_list(["Mon, Nov 30", "Tue, Dec 1", "Wed, Dec 2"])
    'Mon, Nov 30; Tue, Dec 1 and Wed, Dec 2'
    """
    return " and ".join([between.join(names[:-1]), names[-1]]) if len(names) > 1 else "".join(names)


def reasons_once(why_not: Iterable[tuple[str, str]]) -> str:
    """Return reasons, each with the name of what it is true of, said once for all of which it is true.

    >>> reasons_once([("W1", "W1 is void"), ("W2", "W2 is on hold"), ("W3", "W3 is void")])
    'W1 is void, and the same goes for W3; W2 is on hold'
    """
    alike: dict[str, list[str]] = {}
    for name, reason in why_not:
        alike.setdefault(reason.replace(name, "\0", 1), []).append(name)
    said = []
    for reason, (first, *others) in alike.items():
        also = f", and the same goes for {and_list(others, between=', ')}" if others else ""
        said.append(reason.replace("\0", first) + also)
    return "; ".join(said)


def field_name(field: str) -> str:
    """Return the name of a field as people say it, without its unit.

    >>> field_name("ro_width_in"), field_name("is_near_door"), field_name("storeys_up")
    ('rough opening width', 'near door', 'stories up')
    """
    if field in _FIELDS:
        return _FIELDS[field]
    words = (_WHOLE_WORDS.get(word, word) for word in _UNITS.sub("", field).split("_"))
    return " ".join(filter(None, words))


def path_name(path: str) -> str:
    """Return the name of a field within others as people say it, its place in a list counted from 1.

    >>> path_name("readings[1].width_in"), path_name("pieces.0.length_in"), path_name("code")
    ('readings 2, width', 'pieces 1, length', 'code')
    """
    said: list[str] = []
    for step in re.findall(r"[^.\[\]]+", path):
        if step.isdecimal() and said:
            said[-1] += f" {int(step) + 1}"
        else:
            said.append(field_name(step))
    return ", ".join(filter(None, said))


def duration(seconds: int) -> str:
    """Return how long something takes, in its largest unit and rounded up.

    >>> duration(1), duration(90), duration(3600), duration(100_000)
    ('1 second', '2 minutes', '1 hour', '2 days')
    """
    for unit_s, unit in ((86_400, "day"), (3_600, "hour"), (60, "minute")):
        if seconds >= unit_s:
            return counted(-(-seconds // unit_s), unit)
    return counted(seconds, "second")


def day(on: date, today: date | None = None) -> str:
    """Return a date in words, with its year where `today` is given and lies in another one.

    >>> day(date(2026, 11, 30))
    'Mon, Nov 30'
    >>> day(date(2026, 11, 30), date(2026, 1, 2))
    'Mon, Nov 30'
    >>> day(date(2026, 11, 30), date(2027, 1, 2))
    'Mon, Nov 30, 2026'
    """
    year = f", {on.year}" if today and on.year != today.year else ""
    return f"{on:%a, %b} {on.day}{year}"


def dated(on: date) -> str:
    """Return a date in words with its year, for what is kept for years.

    >>> dated(date(2026, 11, 30))
    'Mon, Nov 30, 2026'
    """
    return f"{day(on)}, {on.year}"


def time_of(at: datetime | time) -> str:
    """Return a time of the 12-hour clock; an instant must be in the zone of those who read it.

    >>> time_of(datetime(2026, 11, 30, 14, 0))
    '2:00 PM'
    >>> time_of(time(0, 5)), time_of(time(12, 30))
    ('12:05 AM', '12:30 PM')
    """
    return f"{at.hour % 12 or 12}:{at:%M} {'AM' if at.hour < 12 else 'PM'}"


def moment(at: datetime) -> str:
    """Return an instant in words; it must be in the zone of those who read it.

    >>> moment(datetime(2026, 11, 30, 14, 0))
    'Mon, Nov 30 at 2:00 PM'
    """
    return f"{day(at.date())} at {time_of(at)}"


_ZONES: Final = {
    ("AST", -4): "Atlantic",
    ("EST", -5): "Eastern",
    ("CST", -6): "Central",
    ("MST", -7): "Mountain",
    ("PST", -8): "Pacific",
    ("AKST", -9): "Alaska",
    ("HST", -10): "Hawaii",
}
_WINTER: Final = datetime(2026, 1, 15)  # noqa: DTZ001 - the zone is what is asked about


def zone_name(zone: str) -> str:
    """Return what people call a time zone: by its standard time in the US, elsewhere by its city.

    >>> zone_name("America/Denver"), zone_name("Europe/London"), zone_name("UTC")
    ('Mountain Time', 'London time', 'universal time')

    Args:
        zone: name in the IANA time zone database.
    """
    there = _WINTER.replace(tzinfo=ZoneInfo(zone))
    offset = there.utcoffset()
    if offset is not None and (name := _ZONES.get((there.tzname() or "", round(offset.total_seconds() / 3600)))):
        return f"{name} Time"
    city = zone.rpartition("/")[2].replace("_", " ")
    return "universal time" if city in ("UTC", "GMT") else f"{city} time"


def weekdays(numbers: Iterable[int]) -> str:
    """Return days of the week in words, a run of three and more as one.

    >>> weekdays([1, 2, 3, 4, 5]), weekdays([2, 4]), weekdays([1, 2, 3, 6])
    ('Mon to Fri', 'Tue and Thu', 'Mon to Wed and Sat')

    Args:
        numbers: ISO 8601 weekday numbers in order, 1 is Monday.
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    named = [[_WEEKDAYS[number - 1] for number in run] for run in runs]
    said = [part for run in named for part in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else run)]
    return " and ".join([", ".join(said[:-1]), said[-1]] if len(said) > 1 else said)
