"""Rules as conditions held against what is known, where not everything is known."""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal
from typing import NamedTuple

from jobs.calc.say import field_name
from openings.calc.advice import Advice, Answer
from openings.calc.units import US, Units


class Part(NamedTuple):
    """One condition of a rule: whether it holds (None: not known), in words, and the facts that are missing."""

    holds: bool | None
    said: str = ""
    missing: tuple[str, ...] = ()


_RELATIONS: dict[str, tuple[Callable[[Decimal, Decimal], bool], str]] = {
    "below": (operator.lt, "not below"),
    "above": (operator.gt, "not above"),
    "at least": (operator.ge, "less than"),
    "at most": (operator.le, "more than"),
}


def compare(
    name: str,
    field: str,
    figure: Decimal | None,
    relation: str,
    limit: Decimal,
    *,
    measure: str = "in",
    units: Units = US,
) -> Part:
    """Return whether the figure stands in that relation to its limit, exactly: nothing is rounded before.

    Args:
        field: the fact that is missing where the figure is None.
        relation: below, above, at least, at most.

    >>> compare("sill", "sill_in", Decimal(44), "at most", Decimal(44)).said
    'sill 3\\' 8", at most 3\\' 8"'
    """
    if figure is None:
        return Part(None, missing=(field,))
    holds_for, otherwise = _RELATIONS[relation]
    holds = holds_for(figure, limit)
    shown, bound = (_said(measured, measure, units) for measured in (figure, limit))
    return Part(holds, f"{name} {shown}, {relation if holds else otherwise} {bound}")


def _said(figure: Decimal, measure: str, units: Units) -> str:
    """Return an exact figure with its unit: rounded, what is just too little would read like enough."""
    return units.say(figure) if measure == "in" else f"{units.number(figure, measure)} {units.per(measure)}"


def claim(field: str, holds: bool | None, said: str) -> Part:
    """Return a condition that somebody answered with yes or no."""
    return Part(holds, said if holds else f"not {said}", (field,))


def asked_where_all(rule: str, parts: Sequence[Part], *, then: str, source: str) -> Advice:
    """Return the advice of a rule that asks for something only where all its conditions hold.

    Returns:
        MET where one surely does not hold, whatever else is unknown; CANNOT_TELL where facts are missing;
        else TAKE_CARE with what is asked for.
    """
    off = [part for part in parts if part.holds is False]
    unknown = [part for part in parts if part.holds is None]
    if off:
        return Advice(rule=rule, answer=Answer.MET, reason=f"not asked here: {say(off)}", source=source)
    if unknown:
        return Advice(rule=rule, answer=Answer.CANNOT_TELL, reason=say_missing(unknown), source=source)
    return Advice(rule=rule, answer=Answer.TAKE_CARE, reason=f"{say(parts)}: {then}", source=source)


def say(parts: Iterable[Part]) -> str:
    """Return the conditions in one sentence."""
    return "; ".join(part.said for part in parts)


def say_missing(parts: Iterable[Part]) -> str:
    """Return the missing facts in words, each once."""
    return f"need info: {', '.join(dict.fromkeys(field_name(name) for part in parts for name in part.missing))}"
