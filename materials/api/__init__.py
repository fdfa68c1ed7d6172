"""Endpoints of materials, split by noun."""

from materials.api.assignment import Assignments
from materials.api.board import CautionBoard, ProgressBoard, StagingBoard
from materials.api.cuts import ComputeCuts
from materials.api.detail import Details
from materials.api.draw import ComputeDraw, JobDraw, OpeningAdvice, OpeningDraw
from materials.api.product import Compatibilities, DetailProducts, EvidenceOnPairs, Products, ProductsWorkbook
from materials.api.pull_sheet import PullSheets
from materials.api.remnants import Remnants, RollsToSettle, SettleRoll
from materials.api.search import Search
from materials.api.stock import Lots, Movements, Places, Shortages, Stock, StockCounts
from materials.api.takeoff import JobTakeoff, TakeoffText, TakeoffWorkbook

__all__ = [
    "Assignments",
    "CautionBoard",
    "Compatibilities",
    "ComputeCuts",
    "ComputeDraw",
    "DetailProducts",
    "Details",
    "EvidenceOnPairs",
    "JobDraw",
    "JobTakeoff",
    "Lots",
    "Movements",
    "OpeningAdvice",
    "OpeningDraw",
    "Places",
    "Products",
    "ProductsWorkbook",
    "ProgressBoard",
    "PullSheets",
    "Remnants",
    "RollsToSettle",
    "Search",
    "SettleRoll",
    "Shortages",
    "StagingBoard",
    "Stock",
    "StockCounts",
    "TakeoffText",
    "TakeoffWorkbook",
]
