"""Endpoints of materials, split by noun."""

from materials.api.board import ProgressBoard, StagingBoard
from materials.api.draw import ComputeDraw, JobDraw, OpeningAdvice, OpeningDraw
from materials.api.product import Compatibilities, DetailProducts, EvidenceOnPairs, Products
from materials.api.pull_sheet import PullSheets
from materials.api.stock import Lots, Movements, Places, Shortages, Stock

__all__ = [
    "Compatibilities",
    "ComputeDraw",
    "DetailProducts",
    "EvidenceOnPairs",
    "JobDraw",
    "Lots",
    "Movements",
    "OpeningAdvice",
    "OpeningDraw",
    "Places",
    "Products",
    "ProgressBoard",
    "PullSheets",
    "Shortages",
    "StagingBoard",
    "Stock",
]
