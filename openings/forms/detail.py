"""What is typed or chosen on the page of an installation detail ⇄ values."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from openings.calc.lay_order import Step
from openings.calc.step_code import StepCode

MOST_STEPS = 40


class TriedOrderForm(forms.Form):
    """A place for each step: the order of a firm or a maker. Steps with one place stay in the order they were in."""

    def __init__(self, data: Any = None, *, steps: Sequence[Step]) -> None:
        super().__init__(data)
        self._steps = steps
        for number, step in enumerate(steps, start=1):
            self.fields[step.code.value] = forms.IntegerField(
                label=step.title,
                initial=number,
                min_value=1,
                max_value=MOST_STEPS,
                widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
            )

    def order(self) -> tuple[StepCode, ...]:
        """Return the steps in the order that was entered, or none where it cannot be read."""
        if not self.is_bound or not self.is_valid():
            return ()
        places = self.cleaned_data
        return tuple(sorted((step.code for step in self._steps), key=lambda code: places[code.value]))


class OrderForm(forms.Form):
    """The order that is kept, as the codes of its steps; empty for the usual one."""

    own_order = forms.CharField(required=False, max_length=1000, widget=forms.HiddenInput)

    def clean_own_order(self) -> list[str]:
        """Return the codes."""
        typed: str = self.cleaned_data["own_order"]
        return typed.split()


class AcceptLeakForm(forms.Form):
    why = forms.CharField(
        max_length=300,
        label="Why it is used all the same",
        help_text="Shown with your name until the detail is changed.",
    )
