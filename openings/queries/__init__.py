"""Named reads of openings, split by noun."""

from openings.queries.binding import bounds_of, bounds_of_opening
from openings.queries.board import board_columns, crew_board_json
from openings.queries.board_act import Done, last_acts, what_follows
from openings.queries.computed import (
    LiftNeed,
    lift_need,
    measured_checks,
    opening_labor,
    opening_lift,
    weight_doubt,
)
from openings.queries.crew import days_planned
from openings.queries.crew_day import DayOfStops, days_of_crew
from openings.queries.day_version import SeenDay, require_seen, versions_by_day
from openings.queries.detail import (
    DetailSheet,
    detail_of,
    detail_sheet,
    details_of_job,
    details_to_copy,
    openings_having,
)
from openings.queries.install import Install, install_of, record_id_of
from openings.queries.job import JobSheet, detail_names, job_of, job_sheet, jobs_with_counts
from openings.queries.left import (
    EVERY_STEP,
    NOTHING_LAID,
    Laid,
    carried_on,
    hours_left,
    laid_before,
    laid_by,
    recorded_steps,
)
from openings.queries.opening import (
    Computable,
    alike,
    computable,
    is_held,
    job_labor,
    opening_counts,
    opening_id_of,
    opening_list,
    opening_of,
    person_hours,
    planned_person_h,
)
from openings.queries.progress import JobProgress, job_progress
from openings.queries.rate import labor_rates, named_rate, named_rates, own_rates
from openings.queries.readiness import (
    JobReadiness,
    OpeningReadiness,
    TooEarly,
    assigned_too_early,
    job_readiness,
    openings_where,
    readiness,
    readiness_of_opening,
)
from openings.queries.room import DAYS_LOOKED_AT, Room, next_room
from openings.queries.schedule import draft_of, drafts_of, revision_of, schedule_list, schedules_of
from openings.queries.schedule_export import ScheduleExport, schedule_export
from openings.queries.span import BoardDay, CrewOnDay, crews_by_day
from openings.queries.stranded import Stranded, Why, stranded
from openings.queries.waiting import Waiting, Wanted, openings_shown, size_of, waiting

__all__ = [
    "DAYS_LOOKED_AT",
    "EVERY_STEP",
    "NOTHING_LAID",
    "BoardDay",
    "Computable",
    "CrewOnDay",
    "DayOfStops",
    "DetailSheet",
    "Done",
    "Install",
    "JobProgress",
    "JobReadiness",
    "JobSheet",
    "Laid",
    "LiftNeed",
    "OpeningReadiness",
    "Room",
    "ScheduleExport",
    "SeenDay",
    "Stranded",
    "TooEarly",
    "Waiting",
    "Wanted",
    "Why",
    "alike",
    "assigned_too_early",
    "board_columns",
    "bounds_of",
    "bounds_of_opening",
    "carried_on",
    "computable",
    "crew_board_json",
    "crews_by_day",
    "days_of_crew",
    "days_planned",
    "detail_names",
    "detail_of",
    "detail_sheet",
    "details_of_job",
    "details_to_copy",
    "draft_of",
    "drafts_of",
    "hours_left",
    "install_of",
    "is_held",
    "job_labor",
    "job_of",
    "job_progress",
    "job_readiness",
    "job_sheet",
    "jobs_with_counts",
    "labor_rates",
    "laid_before",
    "laid_by",
    "last_acts",
    "lift_need",
    "measured_checks",
    "named_rate",
    "named_rates",
    "next_room",
    "opening_counts",
    "opening_id_of",
    "opening_labor",
    "opening_lift",
    "opening_list",
    "opening_of",
    "openings_having",
    "openings_shown",
    "openings_where",
    "own_rates",
    "person_hours",
    "planned_person_h",
    "readiness",
    "readiness_of_opening",
    "record_id_of",
    "recorded_steps",
    "require_seen",
    "revision_of",
    "schedule_export",
    "schedule_list",
    "schedules_of",
    "size_of",
    "stranded",
    "versions_by_day",
    "waiting",
    "weight_doubt",
    "what_follows",
]
