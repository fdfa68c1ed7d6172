"""What is entered of units, deliveries, and what openings wait for ⇄ values."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.calc.horizon import PAST, PLAN
from jobs.forms.fields import DayField
from openings.calc.readiness import BeforeKind, Condition, Flaw
from openings.forms.opening import HOLD_KINDS, HoldForm
from openings.models import Delivery, Opening, ReadyRules, Unit

MISSING = "missing"
"""What is said of a unit that its delivery came without."""

CONDITIONS = [(one.value, one.value) for one in Condition]


class ChosenForm(forms.Form):
    """Openings that were selected in a table, and what is entered for them beside it."""

    use_required_attribute = False
    openings = forms.ModelMultipleChoiceField(
        Opening.objects.all(), error_messages={"required": "select at least one opening from the list"}
    )

    def add_prefix(self, field_name: str) -> str:
        """Return the name of a field in what is sent: several such forms share one selection."""
        return field_name if field_name == "openings" else super().add_prefix(field_name)

    @property
    def chosen(self) -> set[str]:
        """The openings that were selected, as the browser sent them."""
        return set(self["openings"].value() or ())


class UnitOrderForm(ChosenForm):
    prefix = "order"
    ordered_on = DayField(within=PAST, label="Ordered on")
    order_ref = forms.CharField(max_length=60, required=False, label="Order number")
    expected_on = DayField(
        within=PLAN, required=False, label="Expected on", help_text="Leave blank if a delivery brings them."
    )


class BringForm(ChosenForm):
    prefix = "bring"
    supplier = forms.CharField(max_length=120, label="Supplier")
    reference = forms.CharField(max_length=60, required=False, label="Their number")
    expected_on = DayField(within=PLAN, required=False, label="Expected on")


class ReceiveForm(ChosenForm):
    prefix = "receive"
    stands_at = forms.CharField(max_length=120, required=False, label="Where they stand")
    condition = forms.ChoiceField(choices=CONDITIONS, label="Condition")
    note = forms.CharField(max_length=300, required=False, label="What is damaged or wrong")

    def clean(self) -> dict[str, Any]:
        values = self.cleaned_data
        if values.get("condition") not in (None, Condition.WHOLE) and not values.get("note"):
            self.add_error("note", "write what is damaged or wrong")
        return values


class DeliveryForm(forms.Form):
    """Which delivery is meant."""

    delivery = forms.IntegerField(widget=forms.HiddenInput)


class ExpectForm(DeliveryForm):
    expected_on = DayField(within=PLAN, label="Expected on")


class ReceiveDeliveryForm(DeliveryForm):
    """A delivery as it came: where its units stand, and of each whether it is whole."""

    use_required_attribute = False
    stands_at = forms.CharField(max_length=120, required=False, label="Where the units stand")

    def __init__(self, data: Any = None, *, units: Iterable[Unit] = (), **options: Any) -> None:
        super().__init__(data, **options)
        self.units = list(units)
        for unit in self.units:
            mark = unit.opening.mark
            choices = [*CONDITIONS, (MISSING, "did not come")]
            self.fields[f"condition_{unit.pk}"] = forms.ChoiceField(choices=choices, label=mark)
            self.fields[f"note_{unit.pk}"] = forms.CharField(
                max_length=300, required=False, label=f"What is damaged or wrong with {mark}"
            )

    @property
    def lines(self) -> list[tuple[Unit, forms.BoundField, forms.BoundField]]:
        """Each unit with its two fields."""
        return [(unit, self[f"condition_{unit.pk}"], self[f"note_{unit.pk}"]) for unit in self.units]

    def clean(self) -> dict[str, Any]:
        """Return the values with `flaws` and `missing` as the service takes them."""
        values: dict[str, Any] = {"flaws": {}, "missing": set()}
        for unit in self.units:
            said, note = (self.cleaned_data.get(f"{name}_{unit.pk}", "") for name in ("condition", "note"))
            if said == MISSING:
                values["missing"].add(unit.pk)
            elif said in (Condition.DAMAGED, Condition.WRONG):
                if not note:
                    self.add_error(f"note_{unit.pk}", ValidationError("write what is damaged or wrong"))
                values["flaws"][unit.pk] = Flaw(condition=Condition(said), note=note)
        return values | {name: self.cleaned_data.get(name) for name in ("delivery", "stands_at")}


class HoldManyForm(HoldForm):
    """A hold for the openings that are selected, or for those of a floor or of a delivery."""

    use_required_attribute = False
    expected_on = DayField(
        within=PLAN,
        required=False,
        label="Expected to be gone on",
        help_text="Openings can be planned from the next day.",
    )
    openings = forms.ModelMultipleChoiceField(Opening.objects.all(), required=False)

    def __init__(self, data: Any = None, *, job_id: int, floors: Iterable[str], **options: Any) -> None:
        super().__init__(data, **options)
        self.fields["floor"] = _floors(floors, none="none", label="Or every opening of a floor")
        self.fields["delivery"] = forms.ModelChoiceField(
            Delivery.objects.filter(job=job_id),
            required=False,
            label="Or every opening of a delivery",
            empty_label="none",
        )

    @property
    def chosen(self) -> set[str]:
        """The openings that were selected, as the browser sent them."""
        return set(self["openings"].value() or ())

    def clean(self) -> dict[str, Any]:
        values = self.cleaned_data
        named = [name for name in ("openings", "floor", "delivery") if values.get(name)]
        if len(named) != 1:
            self.add_error("openings", "select openings from the list, or a floor, or a delivery")
        return values


class ReleaseManyForm(ChosenForm):
    prefix = "release"
    kind = forms.ChoiceField(choices=HOLD_KINDS, label="Holds of this kind")
    note = forms.CharField(max_length=300, required=False, label="Note")


class RulesForm(forms.Form):
    """The rules by which the openings of a job are ready."""

    units = forms.BooleanField(required=False, label="A unit must be ordered and received")
    measured = forms.BooleanField(required=False, label="The rough opening must be measured")
    lead_paint = forms.BooleanField(
        required=False, label="Lead-safe work must be prepared", help_text="In a building from before 1978."
    )
    weather = forms.BooleanField(required=False, label="The forecast must be within the shop’s limits")
    floor_order = forms.CharField(
        required=False,
        label="Floors in the order in which they are set",
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="One a line, as the openings name them; blank where the order does not matter.",
    )

    def __init__(self, data: Any = None, *, rules: ReadyRules) -> None:
        known = {name: getattr(rules, name) for name in ("units", "measured", "lead_paint", "weather")}
        super().__init__(data, initial=known | {"floor_order": "\n".join(rules.floor_order)})

    def clean_floor_order(self) -> list[str]:
        """Return the floors, each once."""
        floors = [line.strip() for line in self.cleaned_data["floor_order"].splitlines() if line.strip()]
        if twice := sorted({floor for floor in floors if floors.count(floor) > 1}):
            raise ValidationError(f"{', '.join(twice)} is listed more than once")
        return floors


class TradeForm(forms.Form):
    kind = forms.ChoiceField(choices=[(kind.value, kind.value) for kind in BeforeKind], label="Kind")
    name = forms.CharField(max_length=120, label="What must be done")
    floor = forms.CharField()
    who = forms.CharField(max_length=120, required=False, label="Who does it or grants it")
    expected_on = DayField(within=PLAN, required=False, label="Expected on")

    def __init__(self, data: Any = None, *, floors: Iterable[str], **options: Any) -> None:
        super().__init__(data, **options)
        self.fields["floor"] = _floors(floors, none="the whole job", label="Floor")


class TradeDoneForm(forms.Form):
    trade = forms.IntegerField(widget=forms.HiddenInput)
    expected_on = DayField(within=PLAN, required=False, label="Expected on")
    done_on = DayField(within=PAST, required=False, label="Done on")


def _floors(floors: Iterable[str], *, none: str, label: str) -> forms.ChoiceField:
    return forms.ChoiceField(choices=[("", none), *((floor, floor) for floor in floors)], required=False, label=label)
