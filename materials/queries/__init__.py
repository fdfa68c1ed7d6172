"""Named reads of products, stock and pull sheets, split by noun."""

from materials.queries.compatibility import verdict
from materials.queries.draw import Choices, DrawnLine, draw_lines, job_draw
from materials.queries.opening import OpeningSheet, opening_sheet
from materials.queries.progress import progress_board
from materials.queries.pull_sheet import (
    crew_days_assigned,
    earliest_today,
    latest_written,
    next_staging_day,
    pull_sheet_counts,
    ready_for,
    sheet_list,
    staging_board,
)
from materials.queries.staging import Truck, trucks_on
from materials.queries.stock import on_hand, shortages, stock_of

__all__ = [
    "Choices",
    "DrawnLine",
    "OpeningSheet",
    "Truck",
    "crew_days_assigned",
    "draw_lines",
    "earliest_today",
    "job_draw",
    "latest_written",
    "next_staging_day",
    "on_hand",
    "opening_sheet",
    "progress_board",
    "pull_sheet_counts",
    "ready_for",
    "sheet_list",
    "shortages",
    "staging_board",
    "stock_of",
    "trucks_on",
    "verdict",
]
