"""What our serializers say that their fields measure, by name."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache, cached_property
from typing import Any, NamedTuple

from django.urls import get_resolver
from rest_framework.fields import Field, JSONField
from rest_framework.serializers import ModelSerializer, Serializer

from jobs.measures import AmountField, MeasureField, RateField, UnitChoiceField, UnitField
from openings.calc.units import CONVERSIONS, Conversion

FLOORS = ("jobs", "openings", "materials")

MEASURES = CONVERSIONS | {"range_f": replace(CONVERSIONS["f"], suffix="range_c", offset=Decimal(0))}
"""By the end of a name inside. A range is a difference of temperatures, which has no zero to move."""


class Twin(NamedTuple):
    """The name of the same measure in the other units, and how its figure gets there."""

    name: str
    conversion: Conversion


@dataclass(frozen=True)
class Names:
    """What is measured, by the names inside.

    Args:
        measures: the measure of each name, which ends with it.
        amounts, rates: names of what has no unit in its name, and of rates for one of it.
        units: names that say the unit of the amounts beside them.
        free: names of what is the same in any units, whatever names stand in it.
    """

    measures: Mapping[str, str]
    amounts: Collection[str] = ()
    rates: Collection[str] = ()
    units: Collection[str] = ()
    free: Collection[str] = ()

    def metric(self, name: Any) -> Twin | None:
        """Return the metric twin of a measure's name, or None where the name is of no measure inside."""
        return self._metric.get(name) if isinstance(name, str) else None

    def inside(self, name: Any) -> Twin | None:
        """Return the twin that a metric name has inside, or None where the name is not metric."""
        return self._inside.get(name) if isinstance(name, str) else None

    @cached_property
    def _metric(self) -> dict[str, Twin]:
        return {
            name: Twin(name.removesuffix(measure) + MEASURES[measure].suffix, MEASURES[measure])
            for name, measure in self.measures.items()
        }

    @cached_property
    def _inside(self) -> dict[str, Twin]:
        return {twin.name: Twin(name, twin.conversion) for name, twin in self._metric.items()}


@cache
def declared() -> Names:
    """Return the names that the fields of our serializers declare."""
    _ = get_resolver().url_patterns  # the routes bring in every serializer
    found = [(name, getattr(field, "child", field)) for shape in shapes() for name, field in shape().fields.items()]

    def of(*kinds: type[Field[Any, Any, Any, Any]]) -> frozenset[str]:
        return frozenset(name for name, field in found if isinstance(field, kinds))

    return Names(
        measures={name: field.measure for name, field in found if isinstance(field, MeasureField)},
        amounts=of(AmountField),
        rates=of(RateField),
        units=of(UnitField, UnitChoiceField),
        free=of(JSONField),
    )


def shapes() -> list[type[Serializer[Any]]]:
    """Return the serializers of our floors."""
    found: list[type[Serializer[Any]]] = []
    waiting: list[type[Serializer[Any]]] = [Serializer]
    while waiting:
        below = waiting.pop().__subclasses__()
        waiting += below
        found += [shape for shape in below if shape.__module__.split(".")[0] in FLOORS]
    return [shape for shape in found if hasattr(shape, "Meta") or not issubclass(shape, ModelSerializer)]
