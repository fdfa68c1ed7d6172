"""Columns that several tables share."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from openings.calc.facts import MAX_SIDE_IN

SMALLEST_IN = Decimal("0.00001")


def inches(default: Decimal | str | int | None = None, **options: Any) -> models.DecimalField:
    """A length of 0 to 40 ft in decimal inches; five places hold a thirty-second exactly."""
    if default is not None:
        options["default"] = Decimal(default)
    bounds = [MinValueValidator(Decimal(0)), MaxValueValidator(MAX_SIDE_IN)]
    return models.DecimalField(max_digits=9, decimal_places=5, validators=bounds, **options)


def side() -> models.DecimalField:
    """A side of an opening or a unit: above 0, at most 40 ft."""
    return _positive(MAX_SIDE_IN)


def diagonal() -> models.DecimalField:
    """From corner to corner: shorter than the two longest sides together."""
    return _positive(2 * MAX_SIDE_IN)


def _positive(most_in: Decimal) -> models.DecimalField:
    bounds = [MinValueValidator(SMALLEST_IN), MaxValueValidator(most_in)]
    return models.DecimalField(max_digits=9, decimal_places=5, validators=bounds)
