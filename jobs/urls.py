"""Routes of this floor."""

from django.urls import path
from rest_framework.routers import SimpleRouter

from jobs import api
from jobs.pages import people, person, welcome

router = SimpleRouter()
router.register("jobs", api.Jobs)
router.register("crews", api.Crews)
router.register("people", api.People)
router.register("invitations", api.Invitations)
router.register("forecasts", api.Forecasts)

urlpatterns = [
    *router.urls,
    path("weather-limits/", api.WeatherLimits.as_view(), name="weather-limits"),
    path("auth/token/", api.Token.as_view(), name="token"),
]
pages = [
    path("people/", people, name="people-page"),
    path("people/<int:person_id>/", person, name="person-page"),
    path("welcome/<str:token>/", welcome, name="welcome-page"),
]
