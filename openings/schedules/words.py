"""How what a schedule says is called to a person: meanings of columns, units, and what a revision did."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from openings.schedules.layout import Marks, Meaning, Totals

MEANING_NAMES: Mapping[Meaning, str] = {
    Meaning.MARK: "mark",
    Meaning.QUANTITY: "how many openings",
    Meaning.COUNT_ON_FLOOR: "how many on one floor",
    Meaning.RO_WIDTH: "rough opening width",
    Meaning.RO_HEIGHT: "rough opening height",
    Meaning.RO_SIZE: "rough opening, both sides in one",
    Meaning.UNIT_WIDTH: "unit width",
    Meaning.UNIT_HEIGHT: "unit height",
    Meaning.UNIT_SIZE: "unit, both sides in one",
    Meaning.OPERATION: "operation",
    Meaning.FRAME_MATERIAL: "frame material",
    Meaning.LITES: "glass thickness, lite by lite",
    Meaning.WEIGHT: "weight of the unit",
    Meaning.DESIGN_PRESSURE: "design pressure",
    Meaning.CLEAR_WIDTH: "clear opening width",
    Meaning.CLEAR_HEIGHT: "clear opening height",
    Meaning.PANE_WIDTH: "pane width",
    Meaning.PANE_HEIGHT: "pane height",
    Meaning.DETAIL: "installation detail",
    Meaning.REMARKS: "remarks",
    Meaning.FLOOR: "floor or place",
    Meaning.STOREYS_UP: "stories up",
    Meaning.ACCESS: "access",
    Meaning.SILL_ABOVE_FLOOR: "sill above floor",
    Meaning.SILL_ABOVE_GRADE: "sill above grade",
    Meaning.CLEAR_SILL_ABOVE_FLOOR: "clear opening, sill above floor",
    Meaning.IS_EGRESS: "emergency escape",
    Meaning.IS_GRADE_FLOOR: "at grade floor",
    Meaning.IS_NEAR_DOOR: "near a door",
    Meaning.IS_NEAR_WALKWAY: "near a walkway",
    Meaning.IS_WET_AREA: "in a wet area",
}

MEANING_GROUPS: Mapping[str, tuple[Meaning, ...]] = {
    "The mark": (Meaning.MARK, Meaning.QUANTITY, Meaning.COUNT_ON_FLOOR),
    "Sizes": (
        Meaning.RO_WIDTH, Meaning.RO_HEIGHT, Meaning.RO_SIZE, Meaning.UNIT_WIDTH, Meaning.UNIT_HEIGHT,
        Meaning.UNIT_SIZE,
    ),
    "The unit": (
        Meaning.OPERATION, Meaning.FRAME_MATERIAL, Meaning.LITES, Meaning.WEIGHT, Meaning.DESIGN_PRESSURE,
        Meaning.CLEAR_WIDTH, Meaning.CLEAR_HEIGHT, Meaning.PANE_WIDTH, Meaning.PANE_HEIGHT,
    ),
    "The place": (
        Meaning.FLOOR, Meaning.STOREYS_UP, Meaning.ACCESS, Meaning.SILL_ABOVE_FLOOR, Meaning.SILL_ABOVE_GRADE,
        Meaning.CLEAR_SILL_ABOVE_FLOOR, Meaning.IS_EGRESS, Meaning.IS_GRADE_FLOOR, Meaning.IS_NEAR_DOOR,
        Meaning.IS_NEAR_WALKWAY, Meaning.IS_WET_AREA,
    ),
    "How it is set": (Meaning.DETAIL, Meaning.REMARKS),
}  # fmt: skip
"""Meanings as they are offered, those that belong together side by side."""

UNIT_NAMES = {
    "in": "inches",
    "ft": "feet",
    "feet-inches": "feet and inches run together (30 is 3' 0\")",
    "mm": "millimeters",
    "cm": "centimeters",
    "m": "meters",
    "lb": "pounds",
    "kg": "kilograms",
}

MARKS_NAMES = {
    Marks.RANGES: "several marks: W1-W4 is W1, W2, W3 and W4",
    Marks.AS_WRITTEN: "one mark, as it is written",
}

TOTALS_NAMES = {Totals.ROWS_AS_READ: "use the rows as they are read"}

BAR_WIDTH = 1000
THINNEST = 8
"""Of a bar so long, so much shows that there is something at all."""

_DONE = {
    "added": "added",
    "restored": "restored",
    "changed": "changed",
    "removed": "removed",
    "left": "not applied",
    "cannot": "already under way, not changed",
    "unchanged": "unchanged",
}


def meaning_name(name: str) -> str:
    """Return the words for a column that is called by its meaning; any other name as it is.

    >>> meaning_name("ro_width_in"), meaning_name("Rough W.")
    ('rough opening width', 'Rough W.')
    """
    return MEANING_NAMES[Meaning(name)] if name in _KNOWN else name


def in_order(columns: Mapping[str, str]) -> list[tuple[str, str]]:
    """Return the columns read, by meaning, in the order in which meanings are offered."""
    return [(meaning, columns[meaning]) for group in MEANING_GROUPS.values() for meaning in group if meaning in columns]


def counts_in_words(counts: Mapping[str, int]) -> str:
    """Return the counts of openings added, changed and so on, in words.

    >>> counts_in_words({"added": 12, "changed": 3, "removed": 0, "left": 2})
    '12 added, 3 changed, 2 not applied'
    """
    said = [f"{counts[name]} {words}" for name, words in _DONE.items() if counts.get(name)]
    return ", ".join(said) or "nothing changed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of the bar that shows what becomes of the openings: how many, where it begins, how long it is."""

    name: str
    words: str
    count: int
    at: int
    width: int

    @property
    def end(self) -> int:
        return self.at + self.width


def parts_of(counts: Mapping[str, int]) -> list[Part]:
    """Return the parts of a bar about `BAR_WIDTH` long; what stands at nothing is left out.

    >>> [(part.name, part.at, part.width) for part in parts_of({"added": 3, "changed": 0, "unchanged": 1})]
    [('added', 0, 750), ('unchanged', 750, 250)]
    """
    total = sum(counts.get(name, 0) for name in _DONE)
    parts, at = [], 0
    for name, words in _DONE.items():
        if count := counts.get(name, 0):
            width = max(THINNEST, round(BAR_WIDTH * count / total))
            parts.append(Part(name=name, words=words, count=count, at=at, width=width))
            at += width
    return parts


_KNOWN = frozenset(meaning.value for meaning in Meaning)
