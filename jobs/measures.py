"""Fields that say what their figure measures: by that, and by nothing else, a body is read and answered in metric.

The name of such a field ends with its measure, as names do everywhere inside; `config.metric` knows the other units.
"""

from __future__ import annotations

from typing import ClassVar

from rest_framework import serializers


class MeasureField(serializers.DecimalField):
    """A figure of one measure, called as `openings.calc.units.CONVERSIONS` calls it."""

    measure: ClassVar[str]


class InchesField(MeasureField):
    """A length in inches, as a number."""

    measure = "in"


class PoundsField(MeasureField):
    """A weight or a load in pounds."""

    measure = "lb"


class PressureField(MeasureField):
    """A pressure in pounds a square foot."""

    measure = "psf"


class TemperatureField(MeasureField):
    """Degrees Fahrenheit."""

    measure = "f"


class TemperatureRangeField(MeasureField):
    """A difference of temperatures, in degrees Fahrenheit."""

    measure = "range_f"


class AmountField(serializers.DecimalField):
    """An amount of what the unit beside it says."""


class RateField(serializers.DecimalField):
    """A rate for one of the unit beside it."""


class UnitField(serializers.CharField):
    """The unit of the amounts beside it."""


class UnitChoiceField(serializers.ChoiceField):
    """The unit of the amounts beside it, one of a few."""


class FreeField(serializers.JSONField):
    """JSON of whatever shape, the same in any units."""
