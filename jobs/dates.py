"""Bound dates wherever they come in: one horizon for columns, form and JSON fields, query parameters and services."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from django.core.exceptions import ValidationError
from django.db import models
from django.utils import timezone
from django.utils.functional import cached_property

from jobs.calc.calendar import earliest_today, latest_today
from jobs.calc.horizon import PLAN, Horizon
from jobs.errors import DayIsPast, DayOutOfReach, Fault

Given = TypeVar("Given")
Kept = TypeVar("Kept")

if TYPE_CHECKING:

    class DateField(models.DateField[Given, Kept]): ...

else:

    class DateField(models.DateField, Generic[Given, Kept]):  # Django's cannot be subscripted when the program runs
        pass


class Within:
    """Validator of a date for a column, a form or a serializer: it refuses what is out of reach wherever one is."""

    def __init__(self, horizon: Horizon) -> None:
        self.horizon = horizon

    def __call__(self, on: date) -> None:
        now = timezone.now()
        refusals = [_refusal(self.horizon, on, today=today) for today in (earliest_today(now), latest_today(now))]
        if refusals[0] and all(refusals):
            raise ValidationError(refusals[0].detail, code=refusals[0].code)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Within) and other.horizon == self.horizon

    def __hash__(self) -> int:
        return hash(self.horizon)


class DayColumn(DateField[Given, Kept]):
    """A date with its horizon. The database knows a plain date: today moves, so no constraint can hold it."""

    def __init__(self, *args: Any, within: Horizon | None = None, **options: Any) -> None:
        self.within = within
        super().__init__(*args, **options)

    @cached_property
    def validators(self) -> list[Any]:
        return [*super().validators, *([Within(self.within)] if self.within else [])]

    def deconstruct(self) -> tuple[str, str, Any, Any]:
        name, _path, args, options = super().deconstruct()
        return name, "django.db.models.DateField", args, options


def require_within(horizon: Horizon, on: date, *, today: date, field: str = "on") -> None:
    """Let a date pass that is within reach where it is `today`.

    Raises:
        DayOutOfReach: it is not; the fault names the field, the date and the range.
        DayIsPast: so it is, being past where only what comes is within reach.
    """
    if refusal := _refusal(horizon, on, today=today, field=field):
        raise refusal


def day_beside(on: date, days: int) -> date | None:
    """Return the date so many days after `on`, or before; None where no page shows it."""
    beside = on + timedelta(days=days)
    return beside if PLAN.holds(beside, today=timezone.now().date()) else None


def _refusal(horizon: Horizon, on: date, *, today: date, field: str = "") -> DayOutOfReach | None:
    said = horizon.refusal(on, today=today)
    if not said:
        return None
    error = DayIsPast if on < today and not horizon.years_back else DayOutOfReach
    return error(said, faults=[Fault(field=field, value=on.isoformat(), detail=said)])
