"""Whether what touches may touch, as it is typed ⇄ values."""

from __future__ import annotations

from django import forms

from materials.calc.compatibility import Verdict
from materials.models import Product

_VERDICTS = [(one.value, one.value) for one in Verdict]


class EvidenceForm(forms.Form):
    """A document on two products."""

    product = forms.ModelChoiceField(Product.objects.order_by("name"), empty_label="choose a product", label="Product")
    neighbor = forms.ModelChoiceField(Product.objects.order_by("name"), empty_label="choose a product", label="Touches")
    verdict = forms.ChoiceField(
        choices=[(value, label) for value, label in _VERDICTS if value != Verdict.TEST_FIRST], label="They are"
    )
    document = forms.CharField(
        max_length=200, label="Document", help_text="Report, maker’s letter or field test, and where it is kept."
    )


class PairForm(forms.Form):
    """What two materials do to each other."""

    chemistry = forms.CharField(max_length=60, label="Material", help_text="As products say what they are made of.")
    neighbor = forms.CharField(max_length=60, label="Touches")
    verdict = forms.ChoiceField(choices=_VERDICTS, label="They are")
    source = forms.CharField(max_length=200, label="Document that says so")
