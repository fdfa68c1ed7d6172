"""What the openings use up, split by noun."""

from materials.models.product import Compatibility, DetailProduct, Evidence, Product
from materials.models.pull_sheet import PlannedRoll, PullSheet, PullSheetLine, RollCut, Settlement
from materials.models.remnant import Remnant
from materials.models.stock import Lot, Movement, Place

__all__ = [
    "Compatibility",
    "DetailProduct",
    "Evidence",
    "Lot",
    "Movement",
    "Place",
    "PlannedRoll",
    "Product",
    "PullSheet",
    "PullSheetLine",
    "Remnant",
    "RollCut",
    "Settlement",
]
