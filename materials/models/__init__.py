"""What the openings use up, split by noun."""

from materials.models.product import Compatibility, DetailProduct, Evidence, Product
from materials.models.pull_sheet import PullSheet, PullSheetLine, RollCut
from materials.models.stock import Lot, Movement, Place

__all__ = [
    "Compatibility",
    "DetailProduct",
    "Evidence",
    "Lot",
    "Movement",
    "Place",
    "Product",
    "PullSheet",
    "PullSheetLine",
    "RollCut",
]
