"""What is typed where trucks and remnants are seen to ⇄ values."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from decimal import Decimal
from typing import Any, cast

from django import forms

from jobs.calc.horizon import COMING
from jobs.forms.fields import DayField
from materials.calc.product import Measure
from materials.models import Place, PlannedRoll, Product
from openings.forms import TapeField


class RequestSheetForm(forms.Form):
    crew = forms.IntegerField(widget=forms.HiddenInput)
    on = DayField(within=COMING, widget=forms.HiddenInput)


class LoadForm(forms.Form):
    """How many packages of each line lie on the truck: a field `line-N` a line, left empty where nobody counted."""

    LINE = re.compile(r"line-(\d{1,18})")

    sheet = forms.IntegerField()

    def __init__(self, data: Mapping[str, Any]) -> None:
        super().__init__(data)
        for name in data:
            if self.LINE.fullmatch(name):
                self.fields[name] = forms.IntegerField(
                    required=False, min_value=0, max_value=9999, label="packages loaded"
                )

    @property
    def packages(self) -> dict[int, int]:
        """The packages by line id, of the lines that were counted; the form must be valid."""
        return {
            int(match[1]): count
            for name, count in self.cleaned_data.items()
            if (match := self.LINE.fullmatch(name)) and count is not None
        }


def _where(*, required: bool = True) -> forms.ModelChoiceField[Place]:
    """Return a choice among the places where remnants lie, the warehouses first."""
    places = Place.objects.filter(kind__in=(Place.Kind.WAREHOUSE, Place.Kind.TRUCK)).order_by("-kind", "name")
    return forms.ModelChoiceField(places, required=required, empty_label=None, label="Place")


def where_of(form: forms.Form) -> forms.ModelChoiceField[Place]:
    """Return the field of a form that says where a remnant lies."""
    return cast("forms.ModelChoiceField[Place]", form.fields["place"])


class EnterRemnantForm(forms.Form):
    product = forms.ModelChoiceField(
        Product.objects.filter(measure=Measure.LENGTH.value), empty_label="choose a product", label="Product"
    )
    length_in = TapeField(label="Length")
    place = _where()


class ScrapForm(forms.Form):
    remnant = forms.IntegerField()


class SettleForm(forms.Form):
    """What a truck brought back of the rolls of a sheet: a field `roll-N` a roll, empty until somebody measured."""

    ROLL = re.compile(r"roll-(\d{1,18})")

    sheet = forms.IntegerField()
    place = _where(required=False)

    def __init__(
        self,
        data: Mapping[str, Any] | None = None,
        *,
        rolls: Collection[PlannedRoll] = (),
        places: Iterable[Any] | None = None,
    ) -> None:
        """Show `rolls` with a field each for what was measured, or read what was sent of any.

        Args:
            places: the choices of `place`, where they are read already.
        """
        super().__init__(data, auto_id="%s" if not rolls else f"of-roll-{next(iter(rolls)).pk}-%s")
        self._rolls = rolls
        for name in [f"roll-{roll.pk}" for roll in rolls] + [name for name in data or () if self.ROLL.fullmatch(name)]:
            self.fields[name] = TapeField(required=False, label="What came back")
        if places is not None:
            where_of(self).choices = places

    @property
    def rows(self) -> Iterator[tuple[PlannedRoll, forms.BoundField]]:
        """Yield each roll that is shown with its field."""
        for roll in self._rolls:
            yield roll, self[f"roll-{roll.pk}"]

    @property
    def came_back_in(self) -> dict[int, Decimal]:
        """What came back by id of the roll, of those that were measured; the form must be valid."""
        return {
            int(match[1]): length_in
            for name, length_in in self.cleaned_data.items()
            if (match := self.ROLL.fullmatch(name)) and length_in is not None
        }
