"""Routes of this floor."""

from django.urls import path
from rest_framework.routers import SimpleRouter

from jobs import api
from jobs.pages import (
    account,
    company,
    drives,
    forecasts,
    integrations,
    notices,
    people,
    person,
    sign_ins,
    weather_limits,
    welcome,
)

router = SimpleRouter()
router.register("jobs", api.Jobs)
router.register("crews", api.Crews)
router.register("people", api.People)
router.register("invitations", api.Invitations)
router.register("forecasts", api.Forecasts)
router.register("auth/tokens", api.Tokens)
router.register("sign-ins", api.SignIns)
router.register("calendar-links", api.CalendarLinks)
router.register("webhooks", api.Webhooks)

urlpatterns = [
    *router.urls,
    path("company/", api.Company.as_view(), name="company"),
    path("public-holidays/", api.PublicHolidays.as_view(), name="public-holidays"),
    path("jobs/<int:job_id>/drives/", api.JobDrives.as_view(), name="job-drives"),
    path("notice-choices/", api.NoticeChoices.as_view(), name="notice-choices"),
    path("weather-limits/", api.WeatherLimits.as_view(), name="weather-limits"),
    path("auth/token/", api.NewToken.as_view(), name="token"),
    path("auth/password/", api.Password.as_view(), name="password"),
    path("auth/unlock/", api.Unlock.as_view(), name="unlock"),
    path("auth/sign-out-everywhere/", api.SignOutEverywhere.as_view(), name="sign-out-everywhere"),
]
pages = [
    path("account/", account, name="account-page"),
    path("company/", company, name="company-page"),
    path("forecasts/", forecasts, name="forecasts-page"),
    path("weather-limits/", weather_limits, name="weather-limits-page"),
    path("drives/", drives, name="drives-page"),
    path("people/", people, name="people-page"),
    path("people/sign-ins/", sign_ins, name="sign-ins-page"),
    path("people/<int:person_id>/", person, name="person-page"),
    path("welcome/<str:token>/", welcome, name="welcome-page"),
    path("account/notices/", notices, name="notices-page"),
    path("integrations/", integrations, name="integrations-page"),
]
