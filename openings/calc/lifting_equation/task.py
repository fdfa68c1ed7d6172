"""One lift: where the hands are, how often, for how long."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from jobs.calc.say import field_name
from jobs.errors import Fault
from openings.errors import BadLift


class Coupling(StrEnum):
    """How well the hands hold the load."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


class Mode(StrEnum):
    """How figures are rounded: not at all, or at every step as the manual prints them."""

    FORMULA = "formula"
    PRINTED = "printed"


class Condition(StrEnum):
    """What takes a lift out of the equation's reach, whatever its figures (94-110 p. 5-6)."""

    ONE_HANDED = "one-handed"
    SEATED_OR_KNEELING = "seated or kneeling"
    RESTRICTED_SPACE = "restricted space"
    UNSTABLE_LOAD = "unstable load"
    WHILE_CARRYING = "while carrying"
    FAST = "faster than 30 in/s"
    SLIPPERY_FLOOR = "slippery floor"
    OUT_OF_CLIMATE = "out of climate"
    TEAM_LIFT = "team lift"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hands:
    """Where the hands are at one end of a lift, and how they hold.

    Args:
        horizontal_in: from the middle between the ankles to the middle between the hands, >= 0.
        vertical_in: hands above the floor; below it the equation does not apply.
        asymmetry_deg: how far the load is off straight ahead, to either side, >= 0.

    Raises:
        BadLift: reach or angle is negative, or a figure is no number.
    """

    horizontal_in: Decimal
    vertical_in: Decimal
    asymmetry_deg: Decimal = Decimal(0)
    coupling: Coupling

    def __post_init__(self) -> None:
        refuse(
            *not_negative(horizontal_in=self.horizontal_in, asymmetry_deg=self.asymmetry_deg),
            *not_numbers(vertical_in=self.vertical_in),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftTask:
    """One lift, repeated at one pace.

    Args:
        load_lb: what is lifted, >= 0.
        destination: where the load is gripped anew, held or placed with care; None where it is just let go, so
            that the origin alone counts.
        travel_in: how far the hands travel up or down; None takes it from origin and destination.
        lifts_per_min: averaged over 15 minutes, >= 0.
        duration_h: lifting that counts as one piece (`counted_h`), > 0.

    Raises:
        BadLift: a figure is negative or no number, or neither travel nor destination is given.
    """

    load_lb: Decimal
    origin: Hands
    destination: Hands | None = None
    travel_in: Decimal | None = None
    lifts_per_min: Decimal
    duration_h: Decimal
    mode: Mode = Mode.FORMULA
    conditions: frozenset[Condition] = frozenset()

    def __post_init__(self) -> None:
        travel = {} if self.travel_in is None else {"travel_in": self.travel_in}
        refuse(
            *not_negative(load_lb=self.load_lb, lifts_per_min=self.lifts_per_min, **travel),
            *not_positive(duration_h=self.duration_h),
        )
        if self.travel_in is None and self.destination is None:
            detail = "give how far the hands travel up or down, or a destination"
            refuse(Fault(field="travel_in", detail=detail))

    @property
    def distance_in(self) -> Decimal:
        """Return the distance that the hands travel up or down."""
        if self.travel_in is not None:
            return self.travel_in
        return abs((self.destination or self.origin).vertical_in - self.origin.vertical_in)


def not_numbers(**figures: Decimal) -> Iterator[Fault]:
    """Yield a fault for each figure that is infinite or no number."""
    for field, figure in figures.items():
        if not figure.is_finite():
            yield _fault(field, figure, "it must be a number")


def not_negative(**figures: Decimal) -> Iterator[Fault]:
    """Yield a fault for each figure that is below 0 or no number."""
    for field, figure in figures.items():
        if not figure.is_finite() or figure < 0:
            yield _fault(field, figure, "it must not be negative")


def not_positive(**figures: Decimal) -> Iterator[Fault]:
    """Yield a fault for each figure that is not above 0."""
    for field, figure in figures.items():
        if not figure.is_finite() or figure <= 0:
            yield _fault(field, figure, "it must be above 0")


def _fault(field: str, figure: Decimal, rule: str) -> Fault:
    return Fault(field=field, value=str(figure), detail=f"the {field_name(field)} is {figure}; {rule}")


def refuse(*faults: Fault) -> None:
    """Raise `BadLift` where there is any fault."""
    if faults:
        raise BadLift("; ".join(fault.detail for fault in faults), faults=faults)
