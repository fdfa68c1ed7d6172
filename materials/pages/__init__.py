"""Pages of what the openings use up, and of what shows it with an opening, split by noun."""

from materials.pages.board import crew_board
from materials.pages.card import card, detail_card
from materials.pages.crew_day import crew_day
from materials.pages.draw import job_draw
from materials.pages.opening import opening
from materials.pages.progress import progress
from materials.pages.remnants import remnants
from materials.pages.staging import staging
from materials.pages.takeoff import takeoff

__all__ = [
    "card",
    "crew_board",
    "crew_day",
    "detail_card",
    "job_draw",
    "opening",
    "progress",
    "remnants",
    "staging",
    "takeoff",
]
