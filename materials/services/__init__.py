"""What changes stock and pull sheets, one verb a function: load, decide, save in one transaction."""

from materials.services.catalogue import (
    Listed,
    ListedProduct,
    ListOutcome,
    reinstate_product,
    retire_product,
    start_catalogue,
    take_products,
    try_products,
)
from materials.services.choose import change_choice, choose_product, drop_choice, revise_detail, set_choice
from materials.services.compatibility import judge_pair, record_evidence
from materials.services.count import count_stock
from materials.services.kept import change_lot, change_place, change_product
from materials.services.load import load_line, load_lines
from materials.services.preview import Preview, preview
from materials.services.remnants import enter_remnant, remnant_to_scrap, reserve_remnants, scrap_remnant
from materials.services.request import request_due_pull_sheets, request_pull_sheet
from materials.services.settle import Settled, settle_roll, settle_rolls
from materials.services.sheet_news import tell_cover_by, tell_missing_sheets
from materials.services.stock import move
from materials.services.write import write_pull_sheet

__all__ = [
    "ListOutcome",
    "Listed",
    "ListedProduct",
    "Preview",
    "Settled",
    "change_choice",
    "change_lot",
    "change_place",
    "change_product",
    "choose_product",
    "count_stock",
    "drop_choice",
    "enter_remnant",
    "judge_pair",
    "load_line",
    "load_lines",
    "move",
    "preview",
    "record_evidence",
    "reinstate_product",
    "remnant_to_scrap",
    "request_due_pull_sheets",
    "request_pull_sheet",
    "reserve_remnants",
    "retire_product",
    "revise_detail",
    "scrap_remnant",
    "set_choice",
    "settle_roll",
    "settle_rolls",
    "start_catalogue",
    "take_products",
    "tell_cover_by",
    "tell_missing_sheets",
    "try_products",
    "write_pull_sheet",
]
