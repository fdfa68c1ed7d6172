"""Hours that somebody worked, as people write them."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Final

from openings.calc.figures import TWO_PLACES, half_up, plain
from openings.errors import BadHours

MOST_H: Final = Decimal(24)
LEAST_H: Final = Decimal("0.01")
RIGHT: Final = "write it like 8, 2.5, 2:15, 45 min, 1 h 30 min or 1 1/2"

_MINUTES_AN_HOUR: Final = 60
_BESIDE_H: Final = Decimal("0.001")
"""How far sums of minutes may lie beside what is meant: 3 × 2:20 is 7, and 6.99999 in five places."""
_LONGEST_TEXT: Final = 40
_FRACTIONS: Final = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3"}
_H, _MIN = r" ?(?:h|hr|hrs|hour|hours)\.?", r" ?(?:m|min|mins|minute|minutes)\.?"
_FIGURE = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"

_CLOCK: Final = re.compile(rf"(?P<h>[0-9]{{0,2}}):(?P<min>[0-5][0-9])(?:{_H})?")
_FRACTION: Final = re.compile(rf"(?:(?P<h>[0-9]+)(?: | ?- ?))?(?P<top>[0-9]+) ?/ ?(?P<bottom>[0-9]+)(?:{_H})?")
_BOTH: Final = re.compile(rf"(?P<h>[0-9]+){_H},? ?(?:and )?(?P<min>[0-5]?[0-9])(?:{_MIN})?")
_ONE: Final = re.compile(rf"(?P<figure>{_FIGURE})(?:(?P<minutes>{_MIN})|{_H})?")


def read_hours(text: str) -> Decimal:
    """Return the hours that a written time means, to five places, so that every minute is kept.

    >>> read_hours("2.5"), read_hours("2:15"), read_hours("45 min"), read_hours("1 h 30 min")
    (Decimal('2.50000'), Decimal('2.25000'), Decimal('0.75000'), Decimal('1.50000'))
    >>> read_hours("2:20")
    Decimal('2.33333')

    Args:
        text: hours as a figure or a fraction, hours and minutes, or minutes.

    Raises:
        BadHours: the text is no time, or one that nobody works in a day; the sentence says what would be right.
    """
    hours = _hours_in(_tidied(text))
    if hours is None:
        raise BadHours(f"“{text.strip()[:_LONGEST_TEXT]}” is not a time that somebody worked; {RIGHT}")
    return checked_hours(hours, said=text.strip())


def checked_hours(hours: Decimal, *, said: str = "") -> Decimal:
    """Return the hours to five places, if somebody can have worked them in a day.

    Args:
        said: how they were written, if otherwise than as a figure.

    Raises:
        BadHours: less than a minute, or more than 24 hours.
    """
    if not hours.is_finite() or not LEAST_H <= hours <= MOST_H:
        raise BadHours(f"{said or hours} is not between a minute and 24 hours; {RIGHT}")
    return half_up(hours)


def say_hours(hours: Decimal) -> str:
    """Return hours as people write them: a figure where two places say it, else hours and minutes.

    >>> say_hours(Decimal("2.50000")), say_hours(Decimal("2.33333")), say_hours(Decimal(8))
    ('2.5', '2:20', '8')
    """
    minutes = round(hours * _MINUTES_AN_HOUR)
    meant = Decimal(minutes) / _MINUTES_AN_HOUR
    if abs(meant - hours) > _BESIDE_H:
        return plain(hours)
    figure = half_up(meant, to=TWO_PLACES)
    return plain(figure) if figure == meant else f"{minutes // _MINUTES_AN_HOUR}:{minutes % _MINUTES_AN_HOUR:02d}"


def _tidied(text: str) -> str:
    if len(text) > _LONGEST_TEXT:
        return ""
    for sign, written in _FRACTIONS.items():
        text = text.replace(sign, written)
    return " ".join(text.lower().split())


def _hours_in(text: str) -> Decimal | None:
    """Return the hours that a tidied text means, or None."""
    if found := _CLOCK.fullmatch(text):
        return _h_and_min(found["h"] or "0", found["min"])
    if found := _BOTH.fullmatch(text):
        return _h_and_min(found["h"], found["min"])
    if (found := _FRACTION.fullmatch(text)) and int(found["bottom"]):
        return Decimal(found["h"] or 0) + Decimal(found["top"]) / Decimal(found["bottom"])
    if found := _ONE.fullmatch(text):
        return Decimal(found["figure"]) / (_MINUTES_AN_HOUR if found["minutes"] else 1)
    return None


def _h_and_min(hours: str, minutes: str) -> Decimal:
    return Decimal(hours) + Decimal(minutes) / _MINUTES_AN_HOUR
