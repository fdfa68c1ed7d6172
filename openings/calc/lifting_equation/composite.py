"""Several lifts in one job: the composite lifting index."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.errors import Fault
from openings.calc.figures import TWO_PLACES, brief, half_up, plain
from openings.calc.lift import CAUTION
from openings.calc.lifting_equation import multipliers
from openings.calc.lifting_equation.assess import risk_reason
from openings.calc.lifting_equation.duration import column_for
from openings.calc.lifting_equation.ends import LONGEST_H, ONE_PLACE, ends_of, lifting_index, product_lb
from openings.calc.lifting_equation.task import LiftTask, Mode, not_negative, not_positive, refuse
from openings.calc.units import US, Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One lift of several: its load, its pace, and what it would allow if it were seldom done.

    Args:
        firwl_lb: RWL without the frequency multiplier, > 0; not looked at where `limits` says that there is none.
        vertical_in: hands above the floor at the origin, which decides the rows of table 5.

    Raises:
        BadLift: load or pace is negative, or `firwl_lb` not above 0.
    """

    load_lb: Decimal
    firwl_lb: Decimal
    lifts_per_min: Decimal
    vertical_in: Decimal
    limits: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        refuse(*not_negative(load_lb=self.load_lb, lifts_per_min=self.lifts_per_min))
        if not self.limits:
            refuse(*not_positive(firwl_lb=self.firwl_lb))


@dataclass(frozen=True, slots=True, kw_only=True)
class Composite:
    """The composite lifting index of a job; None where the equation does not apply, and `limits` says why.

    `terms` are the highest single-task index and then what each further task adds.
    """

    li: Decimal | None
    terms: tuple[Decimal, ...]
    limits: tuple[str, ...]
    reason: str
    source: str = "DHHS/NIOSH 94-110 (rev. 9/2021) sec. 2.4.5, p. 28"
    caution: str = CAUTION


def part_of(task: LiftTask, *, units: Units = US) -> Part:
    """Return a lift as part of a job, by the end that allows less; its own duration gives way to the job's."""
    allowed_lb, limits = [], []
    for end in ends_of(task, units=units):
        pace = next(factor for factor in end.multipliers if factor.symbol == "FM")
        allowed_lb.append(product_lb([factor for factor in end.multipliers if factor is not pace], task.mode))
        limits += [limit for limit in end.limits if limit != pace.limit]
    return Part(
        load_lb=task.load_lb,
        firwl_lb=min(allowed_lb),
        lifts_per_min=task.lifts_per_min,
        vertical_in=task.origin.vertical_in,
        limits=tuple(dict.fromkeys(limits)),
    )


def composite_index(parts: Sequence[Part], *, duration_h: Decimal, mode: Mode = Mode.FORMULA) -> Composite:
    """Return the composite lifting index of lifts that one person does by turns.

    The tasks stand in the order of their single-task index, highest first. Each further one adds its
    frequency-independent index times the growth of 1/FM by its lifts. Tasks added up share the row of the lowest hands
    (our choice, on the safe side, where the manual has one row for both).

    Args:
        parts: one or more.
        duration_h: lifting of the whole job that counts as one piece, > 0.

    Raises:
        BadLift: there is no task, or the duration is not above 0.
    """
    refuse(*not_positive(duration_h=duration_h), *_nothing(parts))
    if limits := tuple(dict.fromkeys(_limits(parts, duration_h))):
        reason = f"the lifting equation does not apply ({'; '.join(limits)}), so no index is given"
        return Composite(li=None, terms=(), limits=limits, reason=reason)
    terms = tuple(_terms(parts, duration_h, mode))
    li = sum(terms, Decimal(0))
    if mode is Mode.PRINTED:
        li = half_up(li, to=ONE_PLACE)
    shown = " + ".join(brief(term) for term in terms)
    reason = f"{len(parts)} tasks, the hardest first: {shown} = {brief(li)}, {risk_reason(li)}"
    return Composite(li=li, terms=terms, limits=(), reason=reason)


def _nothing(parts: Sequence[Part]) -> Iterator[Fault]:
    if not parts:
        yield Fault(field="parts", detail="there is no lift to add up")


def _limits(parts: Sequence[Part], duration_h: Decimal) -> Iterator[str]:
    for part in parts:
        yield from part.limits
    pace = sum((part.lifts_per_min for part in parts), Decimal(0))
    if column_for(lifts_per_min=pace, duration_h=duration_h) is None:
        yield f"lifted for {plain(duration_h)} h: the equation ends at {LONGEST_H} h"
    elif not _frequency(parts, duration_h, Mode.FORMULA):
        yield f"{plain(pace)} lifts a minute together for {plain(duration_h)} h: more than table 5 of the manual allows"


def _frequency(parts: Sequence[Part], duration_h: Decimal, mode: Mode) -> Decimal:
    """Return FM of tasks done by turns."""
    pace = sum((part.lifts_per_min for part in parts), Decimal(0))
    column = column_for(lifts_per_min=pace, duration_h=duration_h)
    if column is None:
        return multipliers.NONE
    value = multipliers.frequency(pace, column, min(part.vertical_in for part in parts))
    return multipliers.as_printed(value) if mode is Mode.PRINTED else value


def _single_index(part: Part, duration_h: Decimal, mode: Mode) -> Decimal:
    """Return STLI: the index of the task as if it were the only one."""
    strwl_lb = part.firwl_lb * _frequency([part], duration_h, mode)
    if mode is Mode.PRINTED:
        strwl_lb = half_up(strwl_lb, to=ONE_PLACE)
    return lifting_index(part.load_lb, strwl_lb, mode)


def _seldom_index(part: Part, mode: Mode) -> Decimal:
    """Return FILI: the index of the task if it were seldom done."""
    index = part.load_lb / part.firwl_lb
    return half_up(index, to=TWO_PLACES) if mode is Mode.PRINTED else index


def _terms(parts: Sequence[Part], duration_h: Decimal, mode: Mode) -> Iterator[Decimal]:
    ordered = sorted(parts, key=lambda part: _single_index(part, duration_h, Mode.FORMULA), reverse=True)
    yield _single_index(ordered[0], duration_h, mode)
    for count in range(1, len(ordered)):
        before = _frequency(ordered[:count], duration_h, mode)
        after = _frequency(ordered[: count + 1], duration_h, mode)
        yield _seldom_index(ordered[count], mode) * (1 / after - 1 / before)
