"""What the difference that a schedule file makes is known by: a list of figures under a version."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any, Protocol

from openings.calc.facts import OpeningFacts
from openings.calc.figures import plain

VERSION = 1
"""Goes up by one with every change of what is listed here."""

FACTS = (
    "ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in", "operation", "weight_lb", "frame_material",
    "lites_in", "design_pressure_psf", "sill_above_floor_in",
)  # fmt: skip
LINE = ("change", "mark", "schedule_mark", "row", "sheet", "opening_id")


class Added(Protocol):
    """An opening that the file adds."""

    @property
    def mark(self) -> str: ...
    @property
    def facts(self) -> OpeningFacts: ...
    @property
    def detail(self) -> str: ...


class Line(Protocol):
    """What else the file changes; `LINE` are read of it too."""

    @property
    def old(self) -> Mapping[str, Any]: ...
    @property
    def new(self) -> Mapping[str, Any]: ...
    @property
    def hindrance(self) -> str: ...
    @property
    def follows(self) -> str: ...


def fingerprint_of(added: Iterable[Added], lines: Iterable[Line]) -> str:
    """Return the same text as long as the file would do the same to the job: 64 letters.

    Whether something hinders a change or follows from it counts, not in what words that is said. A difference that was
    looked at under an older version of the list is another one than today's: whoever takes it is asked to look again,
    since nobody can tell whether it still is the same.
    """
    listed = [
        VERSION,
        [[one.mark, one.detail, [_plain(getattr(one.facts, name)) for name in FACTS]] for one in added],
        [
            [
                *(_plain(getattr(line, name)) for name in LINE),
                *(sorted((name, _plain(value)) for name, value in values.items()) for values in (line.old, line.new)),
                bool(line.hindrance),
                bool(line.follows),
            ]
            for line in lines
        ],
    ]
    return hashlib.sha256(json.dumps(listed).encode()).hexdigest()


def _plain(value: object) -> Any:
    """Return a value as it counts, however it is padded or held."""
    if isinstance(value, Decimal):
        return plain(value)
    if isinstance(value, tuple | list):
        return [_plain(one) for one in value]
    return value if value is None or isinstance(value, bool | int) else str(value)
