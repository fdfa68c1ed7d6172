"""What is set in the wall, split by noun."""

from openings.models.assignment import Assignment
from openings.models.board_act import BoardAct
from openings.models.detail import InstallationDetail
from openings.models.hold import Hold
from openings.models.measurement import FieldMeasurement
from openings.models.on_sheet import OnSheet
from openings.models.opening import Opening
from openings.models.rate import LaborRate
from openings.models.ready import ReadyRules, TradeBefore
from openings.models.record import Callback, HourRecord, InstallRecord, StepRecord
from openings.models.schedule import ScheduleDraft, SenderLayout, WindowSchedule
from openings.models.state import State
from openings.models.told import ShopFasteners
from openings.models.unit import Delivery, Unit

__all__ = [
    "Assignment",
    "BoardAct",
    "Callback",
    "Delivery",
    "FieldMeasurement",
    "Hold",
    "HourRecord",
    "InstallRecord",
    "InstallationDetail",
    "LaborRate",
    "OnSheet",
    "Opening",
    "ReadyRules",
    "ScheduleDraft",
    "SenderLayout",
    "ShopFasteners",
    "State",
    "StepRecord",
    "TradeBefore",
    "Unit",
    "WindowSchedule",
]
