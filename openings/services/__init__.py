"""What changes openings, one verb a function: load, decide, save in one transaction."""

from openings.calc.readiness import Flaw
from openings.plans.choice import Choice
from openings.plans.plan_schedule import SchedulePlan
from openings.plans.show_schedule import outcome_of
from openings.services.accept import accept_measurement
from openings.services.assign import assign, move, move_all, unassign, withdraw, would_unassign
from openings.services.callback import report_callback, revise_callback
from openings.services.company_day import company_day_would_strand, set_company_day, unset_company_day
from openings.services.copy import copy_opening
from openings.services.crew import retire_crew, return_crew
from openings.services.crew_day import change_crew_day, days_off_would_strand, set_crew_day, set_days_off, would_strand
from openings.services.day_news import tell_late_deliveries, tell_stranded
from openings.services.detail import add_detail, revise_detail
from openings.services.fasteners import lock_details, tell_fasteners
from openings.services.firm_list import FirmListOutcome, take_firm_list, try_firm_list
from openings.services.follow import follow_rules, follow_rules_of_job
from openings.services.hold import place_hold, place_holds, release_hold, release_holds, revise_hold
from openings.services.job import archive_job, close_job, reopen_job
from openings.services.leak import accept_leak
from openings.services.lock import lock_detail, lock_detail_of_openings, lock_openings
from openings.services.measure import record_measurement
from openings.services.rate import reset_rate, set_rate
from openings.services.ready import (
    add_ready_rules,
    add_trade_before,
    lock_unfinished,
    revise_trade_before,
    set_ready_rules,
)
from openings.services.record import closing, finish_install, record_hours, record_step, start_install, starting
from openings.services.revise import add_opening, add_openings, revise_opening
from openings.services.schedule import (
    LONGEST_NAME,
    ScheduleFile,
    Taken,
    import_schedule,
    preview_schedule,
    take_schedule,
)
from openings.services.schedule_draft import (
    choose_of_draft,
    discard_draft,
    drafts_to_go_on,
    is_for_worker,
    read_draft,
    send_schedule,
    settle_draft,
    take_draft,
)
from openings.services.sheet import tell_sheet
from openings.services.undo import undo
from openings.services.unit import (
    add_delivery,
    lock_openings_of_delivery,
    order_units,
    receive_delivery,
    receive_units,
    reorder_unit,
    reorder_units,
    revise_delivery,
    revise_unit,
)
from openings.services.void import restore_opening, void_opening, voiding

__all__ = [
    "LONGEST_NAME",
    "Choice",
    "FirmListOutcome",
    "Flaw",
    "ScheduleFile",
    "SchedulePlan",
    "Taken",
    "accept_leak",
    "accept_measurement",
    "add_delivery",
    "add_detail",
    "add_opening",
    "add_openings",
    "add_ready_rules",
    "add_trade_before",
    "archive_job",
    "assign",
    "change_crew_day",
    "choose_of_draft",
    "close_job",
    "closing",
    "company_day_would_strand",
    "copy_opening",
    "days_off_would_strand",
    "discard_draft",
    "drafts_to_go_on",
    "finish_install",
    "follow_rules",
    "follow_rules_of_job",
    "import_schedule",
    "is_for_worker",
    "lock_detail",
    "lock_detail_of_openings",
    "lock_details",
    "lock_openings",
    "lock_openings_of_delivery",
    "lock_unfinished",
    "move",
    "move_all",
    "order_units",
    "outcome_of",
    "place_hold",
    "place_holds",
    "preview_schedule",
    "read_draft",
    "receive_delivery",
    "receive_units",
    "record_hours",
    "record_measurement",
    "record_step",
    "release_hold",
    "release_holds",
    "reopen_job",
    "reorder_unit",
    "reorder_units",
    "report_callback",
    "reset_rate",
    "restore_opening",
    "retire_crew",
    "return_crew",
    "revise_callback",
    "revise_delivery",
    "revise_detail",
    "revise_hold",
    "revise_opening",
    "revise_trade_before",
    "revise_unit",
    "send_schedule",
    "set_company_day",
    "set_crew_day",
    "set_days_off",
    "set_rate",
    "set_ready_rules",
    "settle_draft",
    "start_install",
    "starting",
    "take_draft",
    "take_firm_list",
    "take_schedule",
    "tell_fasteners",
    "tell_late_deliveries",
    "tell_sheet",
    "tell_stranded",
    "try_firm_list",
    "unassign",
    "undo",
    "unset_company_day",
    "void_opening",
    "voiding",
    "withdraw",
    "would_strand",
    "would_unassign",
]
