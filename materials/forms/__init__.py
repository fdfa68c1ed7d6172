"""What is typed or chosen on the pages of materials ⇄ values, split by noun."""

from materials.forms.columns import ColumnsForm
from materials.forms.layout import LayoutForm
from materials.forms.schedule import ScheduleForm, TakeForm, WeightsForm
from materials.forms.stock import EnterRemnantForm, LoadForm, RequestSheetForm, ScrapForm, SettleForm

__all__ = [
    "ColumnsForm",
    "EnterRemnantForm",
    "LayoutForm",
    "LoadForm",
    "RequestSheetForm",
    "ScheduleForm",
    "ScrapForm",
    "SettleForm",
    "TakeForm",
    "WeightsForm",
]
