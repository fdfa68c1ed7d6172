"""Routes of this floor."""

from django.urls import path
from rest_framework.routers import SimpleRouter

from jobs import api

router = SimpleRouter()
router.register("jobs", api.Jobs)
router.register("crews", api.Crews)
router.register("forecasts", api.Forecasts)

urlpatterns = [
    *router.urls,
    path("weather-limits/", api.WeatherLimits.as_view(), name="weather-limits"),
    path("auth/token/", api.Token.as_view(), name="token"),
]
