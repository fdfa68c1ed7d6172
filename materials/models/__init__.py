"""What the openings use up, split by noun."""

from materials.models.product import Compatibility, DetailProduct, Product
from materials.models.pull_sheet import PullSheet, PullSheetLine, RollCut
from materials.models.stock import Lot, Movement, Place

__all__ = [
    "Compatibility",
    "DetailProduct",
    "Lot",
    "Movement",
    "Place",
    "Product",
    "PullSheet",
    "PullSheetLine",
    "RollCut",
]
