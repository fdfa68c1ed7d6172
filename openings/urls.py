"""Routes of this floor."""

from django.urls import path
from rest_framework.routers import SimpleRouter

from openings import api
from openings.pages import (
    calendar,
    calendar_feed,
    crew,
    crew_new,
    crews,
    deliveries,
    detail,
    detail_drawing,
    details,
    edit_detail,
    edit_opening,
    import_firm,
    job,
    job_edit,
    job_list,
    job_new,
    labor_rates,
    new_opening,
    readiness,
    schedule,
    schedule_draft,
    schedule_revision,
    units,
)

router = SimpleRouter()
router.register("company-days", api.CompanyDays)
router.register("crew-days", api.CrewDays)
router.register("schedules", api.Schedules)
router.register("schedule-drafts", api.ScheduleDrafts)
router.register("schedule-layouts", api.ScheduleLayouts)
router.register("openings", api.Openings)
router.register("measurements", api.Measurements)
router.register("holds", api.Holds)
router.register("install-records", api.InstallRecords)
router.register("callbacks", api.Callbacks)
router.register("units", api.Units)
router.register("deliveries", api.Deliveries)
router.register("trades-before", api.TradesBefore)
router.register("ready-rules", api.AllReadyRules)

urlpatterns = [
    path("crew-days/off/", api.DaysOff.as_view(), name="days-off"),
    path("crews/<int:crew_id>/retire/", api.RetireCrew.as_view(), name="retire-crew"),
    path("crews/<int:crew_id>/return/", api.ReturnCrew.as_view(), name="return-crew"),
    path("jobs/<int:job_id>/close/", api.CloseJob.as_view(), name="close-job"),
    path("jobs/<int:job_id>/archive/", api.ArchiveJob.as_view(), name="archive-job"),
    path("jobs/<int:job_id>/reopen/", api.ReopenJob.as_view(), name="reopen-job"),
    *router.urls,
    path("jobs/<int:job_id>/labor/", api.JobLabor.as_view(), name="job-labor"),
    path("jobs/<int:job_id>/readiness/", api.JobReadiness.as_view(), name="job-readiness"),
    path("jobs/<int:job_id>/schedule.xlsx/", api.ScheduleWorkbook.as_view(), name="schedule-workbook"),
    path("jobs/<int:job_id>/schedule.csv/", api.ScheduleText.as_view(), name="schedule-text"),
    path("labor-rates/", api.LaborRates.as_view(), name="labor-rates"),
    path("labor-rates/<slug:name>/", api.LaborRateByName.as_view(), name="labor-rate"),
    path("compute/labor/", api.ComputeLabor.as_view(), name="compute-labor"),
    path("compute/lift/", api.ComputeLift.as_view(), name="compute-lift"),
    path("compute/water-path/", api.ComputeWaterPath.as_view(), name="compute-water-path"),
    path("boards/crews/", api.CrewBoard.as_view(), name="crew-board"),
    path("boards/crews/versions/", api.BoardVersions.as_view(), name="crew-board-versions"),
    path("boards/repairs/", api.RepairsBoard.as_view(), name="repairs-board"),
    path("boards/stranded/", api.StrandedBoard.as_view(), name="stranded-board"),
]
pages = [
    path("calendar/<slug:token>.ics", calendar_feed, name="calendar-feed"),
    path("details/<int:detail_id>/", detail, name="detail-page"),
    path("details/<int:detail_id>/edit/", edit_detail, name="edit-detail-page"),
    path("details/<int:detail_id>/drawing/", detail_drawing, name="detail-drawing"),
    path("jobs/<int:job_id>/details/", details, name="details-page"),
    path("jobs/<int:job_id>/openings/new/", new_opening, name="new-opening-page"),
    path("openings/<int:opening_id>/edit/", edit_opening, name="edit-opening-page"),
    path("labor-rates/", labor_rates, name="labor-rates-page"),
    path("calendar/", calendar, name="calendar-page"),
    path("crews/", crews, name="crews-page"),
    path("crews/new/", crew_new, name="crew-new-page"),
    path("crews/<int:crew_id>/", crew, name="crew-page"),
    path("import/", import_firm, name="import-page"),
    path("jobs/", job_list, name="jobs-page"),
    path("jobs/new/", job_new, name="job-new-page"),
    path("jobs/<int:job_id>/edit/", job_edit, name="job-edit-page"),
    path("jobs/<int:job_id>/", job, name="job-page"),
    path("jobs/<int:job_id>/units/", units, name="units-page"),
    path("deliveries/", deliveries, name="deliveries-page"),
    path("jobs/<int:job_id>/readiness/", readiness, name="readiness-page"),
    path("jobs/<int:job_id>/schedule/", schedule, name="schedule-page"),
    path("jobs/<int:job_id>/schedule/drafts/<int:draft_id>/", schedule_draft, name="schedule-draft-page"),
    path("jobs/<int:job_id>/schedule/revisions/<int:revision>/", schedule_revision, name="schedule-revision-page"),
]
