"""Named reads of products, stock and pull sheets, split by noun."""

from materials.queries.cautions import DayOfWork, caution_board, cautions_given, cautions_of, cautions_on
from materials.queries.compatibility import evidence_on, known_pairs, verdict
from materials.queries.cuts import PlannedCuts, cuts_asked, time_limit
from materials.queries.draw import Choices, OpeningDraw, draw_asked, job_draw, opening_draw
from materials.queries.opening import OpeningSheet, Reckoning, opening_advice, opening_of, opening_sheet, reckoning
from materials.queries.progress import progress_board
from materials.queries.pull_sheet import (
    crew_days_assigned,
    drawn_from_stock,
    latest_written,
    next_staging_day,
    pull_sheet_counts,
    ready_for,
    sheet_list,
    staging_board,
    to_be_written,
)
from materials.queries.remnants import (
    SheetToSettle,
    free_remnants_on,
    is_settled,
    lacks_a_remnant,
    remnant_list,
    remnants_lying,
    rolls_to_settle,
    sheets_to_settle,
)
from materials.queries.staging import Truck, trucks_on
from materials.queries.stock import on_hand, shortages, stock_of

__all__ = [
    "Choices",
    "DayOfWork",
    "OpeningDraw",
    "OpeningSheet",
    "PlannedCuts",
    "Reckoning",
    "SheetToSettle",
    "Truck",
    "caution_board",
    "cautions_given",
    "cautions_of",
    "cautions_on",
    "crew_days_assigned",
    "cuts_asked",
    "draw_asked",
    "drawn_from_stock",
    "evidence_on",
    "free_remnants_on",
    "is_settled",
    "job_draw",
    "known_pairs",
    "lacks_a_remnant",
    "latest_written",
    "next_staging_day",
    "on_hand",
    "opening_advice",
    "opening_draw",
    "opening_of",
    "opening_sheet",
    "progress_board",
    "pull_sheet_counts",
    "ready_for",
    "reckoning",
    "remnant_list",
    "remnants_lying",
    "rolls_to_settle",
    "sheet_list",
    "sheets_to_settle",
    "shortages",
    "staging_board",
    "stock_of",
    "time_limit",
    "to_be_written",
    "trucks_on",
    "verdict",
]
