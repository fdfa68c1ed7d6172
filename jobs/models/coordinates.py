"""Where on earth something is."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

MOST_LATITUDE, MOST_LONGITUDE = Decimal(90), Decimal(180)


def latitude() -> models.DecimalField[Any, Any]:
    """Return the column of degrees north of the equator; six places are about four inches."""
    return _degrees(MOST_LATITUDE, "Degrees, north is positive, such as 39.7392.")


def longitude() -> models.DecimalField[Any, Any]:
    """Return the column of degrees east of Greenwich."""
    return _degrees(MOST_LONGITUDE, "Degrees, west is negative in the US, such as -104.9903.")


def on_earth(latitude: str, longitude: str, *, name: str) -> models.CheckConstraint:
    """Return the constraint that two columns hold a place on earth together, or nothing."""
    inside = Q(
        **{
            f"{latitude}__gte": -MOST_LATITUDE,
            f"{latitude}__lte": MOST_LATITUDE,
            f"{longitude}__gte": -MOST_LONGITUDE,
            f"{longitude}__lte": MOST_LONGITUDE,
        }
    )
    nowhere = Q(**{f"{latitude}__isnull": True, f"{longitude}__isnull": True})
    return models.CheckConstraint(
        condition=nowhere | Q(**{f"{latitude}__isnull": False, f"{longitude}__isnull": False}) & inside,
        name=name,
        violation_error_message="Latitude and longitude go together: give both, or neither.",
    )


def _degrees(most: Decimal, said: str) -> models.DecimalField[Any, Any]:
    return models.DecimalField(
        max_digits=9,
        decimal_places=6,
        null=True,
        blank=True,
        validators=[MinValueValidator(-most), MaxValueValidator(most)],
        help_text=said,
    )
