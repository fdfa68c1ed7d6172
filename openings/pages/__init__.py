"""Pages of openings, split by noun."""

from openings.pages.calendar import calendar
from openings.pages.calendar_feed import calendar_feed
from openings.pages.crew import crew, crew_new, crews
from openings.pages.detail import detail
from openings.pages.details import details
from openings.pages.edit_detail import detail_drawing, edit_detail
from openings.pages.edit_opening import edit_opening, new_opening
from openings.pages.import_firm import import_firm
from openings.pages.job import job, job_list
from openings.pages.job_form import job_edit, job_new
from openings.pages.rates import labor_rates
from openings.pages.readiness import readiness
from openings.pages.schedule import schedule
from openings.pages.schedule_draft import schedule_draft
from openings.pages.schedule_revision import schedule_revision
from openings.pages.unit import deliveries, units

__all__ = [
    "calendar",
    "calendar_feed",
    "crew",
    "crew_new",
    "crews",
    "deliveries",
    "detail",
    "detail_drawing",
    "details",
    "edit_detail",
    "edit_opening",
    "import_firm",
    "job",
    "job_edit",
    "job_list",
    "job_new",
    "labor_rates",
    "new_opening",
    "readiness",
    "schedule",
    "schedule_draft",
    "schedule_revision",
    "units",
]
