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
    NextRoomForm,
    ReleaseForm,
    StepForm,
    TapeField,
    UnassignForm,
    UndoForm,
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
    "NextRoomForm",
    "OrderForm",
    "ReleaseForm",
    "ScheduleForm",
    "StepForm",
    "TakeForm",
    "TapeField",
    "TriedOrderForm",
    "UnassignForm",
    "UndoForm",
    "WeightsForm",
]
