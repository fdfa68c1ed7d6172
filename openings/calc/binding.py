"""What may change once something binds an opening: one table, which every verb asks.

A verb that changes or ends an opening, or its detail, goes on, goes on with what follows, or is refused; that depends
on how far the opening has come. Nobody decides it anywhere else.

>>> answer_to(Verb.VOID, [Bond.ASSIGNED, Bond.ON_A_TRUCK])
<Answer.REFUSED: 'refused'>
>>> answer_to(Verb.REVISE_REMARKS, [Bond.ASSIGNED, Bond.ON_A_TRUCK])
<Answer.SHEET_FOLLOWS: 'goes on; the sheet follows'>
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from jobs.calc.say import field_name


class Bond(StrEnum):
    """What binds an opening, the looser before the tighter."""

    ASSIGNED = "assigned"
    SHEET_ISSUED = "sheet issued"
    ON_A_TRUCK = "material on a truck"
    STARTED = "install started"
    DONE = "install done"

    @property
    def strength(self) -> int:
        """How tightly it binds, from 1."""
        return list(Bond).index(self) + 1


class Verb(StrEnum):
    """What changes or ends an opening, or its detail."""

    REVISE_REMARKS = "change floor, remarks"
    REVISE_FACTS = "change weight, glass, access, site facts"
    REVISE_COUNTED = "change frame material, design pressure"
    REVISE_BUILD = "change mark, sizes, operation, detail"
    RENAME_DETAIL = "rename its detail, make it the default"
    REVISE_DETAIL = "change anything else of its detail"
    RESTAGE = "change the fastener that is staged for its detail"
    RESCHEDULE_REMARKS = "schedule: change floor, remarks"
    RESCHEDULE_FACTS = "schedule: change weight, glass, access, site facts"
    RESCHEDULE_COUNTED = "schedule: change frame material, design pressure"
    RESCHEDULE_BUILD = "schedule: change sizes, operation, detail"
    REMOVE = "schedule: remove it"
    RESTORE = "restore it"
    ACCEPT_BUILT = "accept a measured size"
    VOID = "void it"
    ASSIGN = "assign it"
    MOVE = "move it to another crew day"
    WITHDRAW = "unassign it"


class Answer(StrEnum):
    """What becomes of a verb, the more lenient first."""

    GOES_ON = "goes on"
    SHEET_FOLLOWS = "goes on; the sheet follows"
    HOLD = "goes on with a hold; the sheet follows"
    REFUSED = "refused"


_ON, _SHEET, _HOLD, _NO = Answer.GOES_ON, Answer.SHEET_FOLLOWS, Answer.HOLD, Answer.REFUSED

TABLE: Mapping[Verb, Mapping[Bond, Answer]] = {
    verb: dict(zip(Bond, answers, strict=True))
    for verb, answers in {
        # assigned, sheet issued, material on a truck, install started, install done
        Verb.REVISE_REMARKS: (_ON, _SHEET, _SHEET, _ON, _ON),
        Verb.REVISE_FACTS: (_ON, _SHEET, _SHEET, _ON, _ON),
        Verb.REVISE_COUNTED: (_ON, _SHEET, _NO, _ON, _ON),
        Verb.REVISE_BUILD: (_ON, _SHEET, _NO, _NO, _NO),
        Verb.RENAME_DETAIL: (_ON, _SHEET, _SHEET, _ON, _ON),
        Verb.REVISE_DETAIL: (_ON, _SHEET, _NO, _NO, _NO),
        Verb.RESTAGE: (_ON, _SHEET, _NO, _ON, _ON),
        Verb.RESCHEDULE_REMARKS: (_ON, _SHEET, _SHEET, _ON, _ON),
        Verb.RESCHEDULE_FACTS: (_HOLD, _HOLD, _HOLD, _HOLD, _ON),
        Verb.RESCHEDULE_COUNTED: (_HOLD, _HOLD, _NO, _HOLD, _ON),
        Verb.RESCHEDULE_BUILD: (_HOLD, _HOLD, _NO, _NO, _NO),
        Verb.REMOVE: (_NO, _NO, _NO, _NO, _NO),
        Verb.RESTORE: (_ON, _ON, _ON, _ON, _ON),
        Verb.ACCEPT_BUILT: (_ON, _SHEET, _HOLD, _HOLD, _NO),
        Verb.VOID: (_NO, _NO, _NO, _NO, _NO),
        Verb.ASSIGN: (_NO, _NO, _ON, _ON, _NO),
        Verb.MOVE: (_ON, _SHEET, _SHEET, _SHEET, _NO),
        Verb.WITHDRAW: (_ON, _SHEET, _SHEET, _NO, _NO),
    }.items()
}
"""Who changes an opening by hand has looked at it. A schedule changes many at once: the hold has somebody look. A size
that was measured is no change on paper but a fact of the wall, refused while work is left by nothing: what is loaded,
cut or laid by another size may be short, so the hold has somebody look there too.

Source: common practice, no source: what is loaded, cut or set is not changed on paper.
"""

FIRST: Mapping[Bond, str] = {
    Bond.ASSIGNED: "unassign it first",
    Bond.SHEET_ISSUED: "unassign it first",
    Bond.ON_A_TRUCK: "bring the material back first: unload it on the pull sheet, or enter the returns of the truck",
    Bond.STARTED: "what is recorded stays as it is",
    Bond.DONE: "what is recorded stays as it is",
}
"""What to do before that which is refused can be done."""

_FIRST_FOR: Mapping[tuple[Verb, Bond], str] = {
    (Verb.ASSIGN, Bond.ASSIGNED): "move it to the other crew day instead",
    (Verb.ASSIGN, Bond.SHEET_ISSUED): "move it to the other crew day instead",
    (Verb.WITHDRAW, Bond.STARTED): (
        "it cannot go back to ready; carry it on: move what is left of it to a crew and a day"
    ),
}
"""What to do instead, where a verb has a better answer."""

REMARKS = frozenset({"floor", "remarks", "schedule_mark"})
"""Columns that draw nothing, and whose change needs nobody to look again before a crew goes."""

COUNTED = frozenset({"frame_material", "design_pressure_psf"})
"""Columns that say how much of a material an opening takes, and of which no install record speaks."""

BUILD = frozenset(
    {"mark", "ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in", "operation", "detail"}
)  # fmt: skip
"""What an install record speaks of, and what pieces are cut to: changed later, they would speak of another opening."""

NAME = frozenset({"name", "is_default"})
"""Columns of a detail that say nothing of how a unit is set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """One thing that binds an opening.

    Args:
        since: from when on.
        said: what it is, and where and since when, as a clause, such as "it is assigned to Rowan on Mon, Nov 30".
    """

    bond: Bond
    since: datetime
    said: str


@dataclass(frozen=True, slots=True)
class Decision:
    """What becomes of a verb; `by` is what decides it, None where nothing binds the opening."""

    verb: Verb
    answer: Answer
    by: Bound | None = None

    @property
    def why_refused(self) -> str:
        """Why it is refused and what to do first, as a clause; nothing if it goes on."""
        if self.by is None or self.answer is not Answer.REFUSED:
            return ""
        return f"{self.by.said}; {_FIRST_FOR.get((self.verb, self.by.bond), FIRST[self.by.bond])}"


def decide(verb: Verb, bounds: Iterable[Bound]) -> Decision:
    """Return the strictest answer to a verb by what binds an opening, and the tightest bond that gives it."""
    by_bond = {bound.bond: bound for bound in bounds}
    answers = [Decision(verb, TABLE[verb][bond], by_bond[bond]) for bond in _counting(by_bond)]
    return max(answers, key=lambda one: list(Answer).index(one.answer), default=Decision(verb, Answer.GOES_ON))


def answer_to(verb: Verb, bonds: Collection[Bond]) -> Answer:
    """Return what becomes of a verb by the bonds alone."""
    answers = [TABLE[verb][bond] for bond in _counting(bonds)]
    return max(answers, key=list(Answer).index, default=Answer.GOES_ON)


def _counting(bonds: Collection[Bond]) -> list[Bond]:
    """Return what counts, the tightest first: of an opening that is done the material is used, and its crew gone."""
    return [Bond.DONE] if Bond.DONE in bonds else sorted(bonds, key=lambda bond: -bond.strength)


def revising(columns: Collection[str]) -> Verb:
    """Return the verb by which a person changes these columns of an opening.

    >>> revising(["remarks", "ro_width_in"]).name, revising(["weight_lb"]).name
    ('REVISE_BUILD', 'REVISE_FACTS')
    """
    if not BUILD.isdisjoint(columns):
        return Verb.REVISE_BUILD
    if not COUNTED.isdisjoint(columns):
        return Verb.REVISE_COUNTED
    return Verb.REVISE_REMARKS if REMARKS.issuperset(columns) else Verb.REVISE_FACTS


_BY_A_SCHEDULE = {
    Verb.REVISE_REMARKS: Verb.RESCHEDULE_REMARKS,
    Verb.REVISE_FACTS: Verb.RESCHEDULE_FACTS,
    Verb.REVISE_COUNTED: Verb.RESCHEDULE_COUNTED,
    Verb.REVISE_BUILD: Verb.RESCHEDULE_BUILD,
}


def rescheduling(columns: Collection[str]) -> Verb:
    """Return the verb by which a schedule changes these columns of an opening."""
    return _BY_A_SCHEDULE[revising(columns)]


def revising_detail(columns: Collection[str]) -> Verb:
    """Return the verb by which these columns of the detail of an opening change."""
    return Verb.RENAME_DETAIL if NAME.issuperset(columns) else Verb.REVISE_DETAIL


def say_columns(columns: Iterable[str]) -> str:
    """Return columns as they are called.

    >>> say_columns(["ro_width_in", "weight_lb", "detail"])
    'rough opening width, weight, detail'
    """
    return ", ".join(map(field_name, columns))
