"""What changes stock and pull sheets, one verb a function: load, decide, save in one transaction."""

from materials.services.load import load_line, load_lines
from materials.services.remnants import (
    Settled,
    enter_remnant,
    reserve_remnants,
    scrap_remnant,
    settle_roll,
    settle_rolls,
)
from materials.services.request import request_due_pull_sheets, request_pull_sheet
from materials.services.stock import move
from materials.services.write import write_pull_sheet

__all__ = [
    "Settled",
    "enter_remnant",
    "load_line",
    "load_lines",
    "move",
    "request_due_pull_sheets",
    "request_pull_sheet",
    "reserve_remnants",
    "scrap_remnant",
    "settle_roll",
    "settle_rolls",
    "write_pull_sheet",
]
