"""What is typed or chosen on the pages of openings ⇄ values, split by noun."""

from openings.forms.columns import ColumnsForm
from openings.forms.detail import AcceptLeakForm, OrderForm, TriedOrderForm
from openings.forms.layout import LayoutForm
from openings.forms.opening import (
    AcceptForm,
    AssignForm,
    CrewAndDayForm,
    CrewForm,
    DayField,
    DayForm,
    ExampleForm,
    GiveForm,
    HoldForm,
    HoldOneForm,
    HoursField,
    HoursForm,
    MeasurementForm,
    MoveForm,
    ReleaseForm,
    StepForm,
    TapeField,
    WithdrawForm,
)
from openings.forms.schedule import ScheduleForm, TakeForm, WeightsForm

__all__ = [
    "AcceptForm",
    "AcceptLeakForm",
    "AssignForm",
    "ColumnsForm",
    "CrewAndDayForm",
    "CrewForm",
    "DayField",
    "DayForm",
    "ExampleForm",
    "GiveForm",
    "HoldForm",
    "HoldOneForm",
    "HoursField",
    "HoursForm",
    "LayoutForm",
    "MeasurementForm",
    "MoveForm",
    "OrderForm",
    "ReleaseForm",
    "ScheduleForm",
    "StepForm",
    "TakeForm",
    "TapeField",
    "TriedOrderForm",
    "WeightsForm",
    "WithdrawForm",
]
