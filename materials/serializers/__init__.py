"""Records and figures of this floor as JSON."""

from materials.serializers.caution import (
    CautionsAsked,
    CautionSerializer,
    DayCautionsSerializer,
    GivenSerializer,
)
from materials.serializers.cuts import CutsAsked, PlannedCutsSerializer
from materials.serializers.draw import DrawAsked, DrawSerializer, JobDrawSerializer, OpeningAdviceSerializer
from materials.serializers.product import (
    CompatibilitySerializer,
    DetailProductSerializer,
    EvidenceSerializer,
    PairSerializer,
    ProductSerializer,
    StartingSerializer,
    VerdictSerializer,
)
from materials.serializers.progress import ProgressSerializer
from materials.serializers.pull_sheet import (
    LoadSerializer,
    PullSheetSerializer,
    RequestSheetSerializer,
    StagingDay,
    StagingSerializer,
)
from materials.serializers.remnant import (
    RemnantSerializer,
    RollToSettleSerializer,
    SettledSerializer,
    SettleSerializer,
)
from materials.serializers.stock import (
    CountSerializer,
    LotSerializer,
    MovementSerializer,
    PlaceSerializer,
    ShortageSerializer,
    StockSerializer,
)
from materials.serializers.takeoff import TakeoffSerializer

__all__ = [
    "CautionSerializer",
    "CautionsAsked",
    "CompatibilitySerializer",
    "CountSerializer",
    "CutsAsked",
    "DayCautionsSerializer",
    "DetailProductSerializer",
    "DrawAsked",
    "DrawSerializer",
    "EvidenceSerializer",
    "GivenSerializer",
    "JobDrawSerializer",
    "LoadSerializer",
    "LotSerializer",
    "MovementSerializer",
    "OpeningAdviceSerializer",
    "PairSerializer",
    "PlaceSerializer",
    "PlannedCutsSerializer",
    "ProductSerializer",
    "ProgressSerializer",
    "PullSheetSerializer",
    "RemnantSerializer",
    "RequestSheetSerializer",
    "RollToSettleSerializer",
    "SettleSerializer",
    "SettledSerializer",
    "ShortageSerializer",
    "StagingDay",
    "StagingSerializer",
    "StartingSerializer",
    "StockSerializer",
    "TakeoffSerializer",
    "VerdictSerializer",
]
