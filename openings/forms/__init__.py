"""What is typed or chosen on the pages of openings ⇄ values, split by noun."""

from openings.forms.columns import ColumnsForm
from openings.forms.detail import AcceptLeakForm, OrderForm, TriedOrderForm
from openings.forms.layout import LayoutForm
from openings.forms.one_detail import DetailForm, NewDetailForm
from openings.forms.one_opening import CopyForm, NewOpeningForm, OpeningForm, VoidForm
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
    UnassignForm,
    UndoForm,
)
from openings.forms.rate import RateForm, RateNameForm
from openings.forms.schedule import ScheduleForm, TakeForm, WeightsForm
from openings.forms.tape import TapeField

__all__ = [
    "AcceptForm",
    "AcceptLeakForm",
    "AssignForm",
    "ColumnsForm",
    "CopyForm",
    "CrewAndDayForm",
    "CrewForm",
    "DayField",
    "DayForm",
    "DetailForm",
    "ExampleForm",
    "GiveForm",
    "HoldForm",
    "HoldOneForm",
    "HoursField",
    "HoursForm",
    "LayoutForm",
    "MeasurementForm",
    "MoveForm",
    "NewDetailForm",
    "NewOpeningForm",
    "NextRoomForm",
    "OpeningForm",
    "OrderForm",
    "RateForm",
    "RateNameForm",
    "ReleaseForm",
    "ScheduleForm",
    "StepForm",
    "TakeForm",
    "TapeField",
    "TriedOrderForm",
    "UnassignForm",
    "UndoForm",
    "VoidForm",
    "WeightsForm",
]
