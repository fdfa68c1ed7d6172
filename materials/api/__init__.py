"""Endpoints of materials, split by noun."""

from materials.api.board import ProgressBoard, StagingBoard
from materials.api.draw import JobDraw, OpeningDraw
from materials.api.product import Compatibilities, DetailProducts, Products
from materials.api.pull_sheet import PullSheets
from materials.api.stock import Lots, Movements, Places, Shortages, Stock

__all__ = [
    "Compatibilities",
    "DetailProducts",
    "JobDraw",
    "Lots",
    "Movements",
    "OpeningDraw",
    "Places",
    "Products",
    "ProgressBoard",
    "PullSheets",
    "Shortages",
    "StagingBoard",
    "Stock",
]
