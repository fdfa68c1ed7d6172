"""Pages of what the openings use up, and of what shows it with an opening, split by noun."""

from materials.pages.board import crew_board, crew_board_cells
from materials.pages.card import card, detail_card
from materials.pages.choices import detail_products, standards
from materials.pages.compatibility import compatibility
from materials.pages.crew_day import crew_day
from materials.pages.draw import job_draw
from materials.pages.mend import mend
from materials.pages.opening import opening
from materials.pages.product import new_product, product, products, starting_products
from materials.pages.product_list import product_list
from materials.pages.progress import progress
from materials.pages.remnants import remnants
from materials.pages.search import search
from materials.pages.staging import staging
from materials.pages.stock import places, stock
from materials.pages.takeoff import takeoff

__all__ = [
    "card",
    "compatibility",
    "crew_board",
    "crew_board_cells",
    "crew_day",
    "detail_card",
    "detail_products",
    "job_draw",
    "mend",
    "new_product",
    "opening",
    "places",
    "product",
    "product_list",
    "products",
    "progress",
    "remnants",
    "search",
    "staging",
    "standards",
    "starting_products",
    "stock",
    "takeoff",
]
