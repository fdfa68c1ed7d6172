"""The weather from which on no window is set."""

from __future__ import annotations

from typing import ClassVar

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q

from jobs.calc.weather import WeatherLimits


class ShopWeatherLimits(models.Model):
    """The weather from which on this shop sets no windows, as it says itself; one row, where it says anything."""

    THE_ONE = 1

    most_wind_mph = models.DecimalField(max_digits=5, decimal_places=1, validators=[MinValueValidator(0)])
    wind_source = models.CharField(max_length=200, help_text="Who says so, such as the shop's safety plan.")
    most_rain_in = models.DecimalField(max_digits=8, decimal_places=5, validators=[MinValueValidator(0)])
    rain_source = models.CharField(max_length=200, help_text="Who says so, such as a maker's instructions.")

    class Meta:
        verbose_name_plural = "shop weather limits"
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(pk=1), name="weather_limits_stand_once"),
            models.CheckConstraint(
                condition=Q(most_wind_mph__gte=0, most_rain_in__gte=0), name="weather_limits_are_not_negative"
            ),
            models.CheckConstraint(
                condition=~Q(wind_source="") & ~Q(rain_source=""), name="weather_limits_say_where_they_come_from"
            ),
        ]

    def __str__(self) -> str:
        return f"wind {self.most_wind_mph} mph, rain {self.most_rain_in} in. a day"

    def as_limits(self) -> WeatherLimits:
        """Return the calc value."""
        return WeatherLimits(
            most_wind_mph=self.most_wind_mph,
            wind_source=self.wind_source,
            most_rain_in=self.most_rain_in,
            rain_source=self.rain_source,
        )
