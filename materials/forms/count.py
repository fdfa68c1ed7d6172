"""What was counted at a place, and places themselves ⇄ values."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from django import forms

from jobs.calc.horizon import EXPIRY
from jobs.forms.fields import DayField
from jobs.models import Crew
from materials.models import Place, Product
from materials.models.values import Counted

_PACKAGES = re.compile(r"packages-(\d{1,18})(?:-(\d{1,18}))?")
MOST_PACKAGES = 999_999


class CountForm(forms.Form):
    """How many packages of each product are at a place, left empty where nobody counted.

    Of product 7: `packages-7`, of its lot 3 `packages-7-3`; `lot-7` and `expires-7` say of which lot `packages-7` are.
    """

    place = forms.ModelChoiceField(
        Place.objects.filter(kind__in=(Place.Kind.WAREHOUSE, Place.Kind.TRUCK)), widget=forms.HiddenInput
    )

    def __init__(self, data: Mapping[str, Any], *, names: Mapping[str, str]) -> None:
        """Read what was sent.

        Args:
            names: of each product, by its id.
        """
        super().__init__(data)
        for field in data:
            if found := _PACKAGES.fullmatch(field):
                name = names.get(found[1], "product")
                self.fields[field] = forms.DecimalField(
                    required=False, min_value=0, max_value=MOST_PACKAGES, decimal_places=3, label=f"{name}: packages"
                )
            elif field.startswith("lot-"):
                self.fields[field] = forms.CharField(required=False, max_length=60, label="Lot")
            elif field.startswith("expires-"):
                self.fields[field] = DayField(within=EXPIRY, required=False, label="Expires")

    def counted(self, products: Mapping[int, Product], lots: Mapping[int, str]) -> Iterator[Counted]:
        """Yield what was counted; the form must be valid.

        Args:
            products, lots: by their ids; of a lot its number.
        """
        given = self.cleaned_data
        for field, packages in given.items():
            found = _PACKAGES.fullmatch(field)
            product = products.get(int(found[1])) if found else None
            if not found or product is None or not isinstance(packages, Decimal):
                continue
            if found[2]:
                if (code := lots.get(int(found[2]))) is not None:
                    yield Counted(product=product, packages=packages, lot_code=code)
            else:
                yield Counted(
                    product=product,
                    packages=packages,
                    lot_code=given.get(f"lot-{found[1]}") or "",
                    expires_on=given.get(f"expires-{found[1]}"),
                )


class PlaceForm(forms.Form):
    """A place more."""

    kind = forms.ChoiceField(
        choices=[(kind.value, kind.label) for kind in Place.Kind if kind is not Place.Kind.OPENING],
        initial=Place.Kind.WAREHOUSE,
        label="Kind",
    )
    name = forms.CharField(max_length=80, label="Name")
    crew = forms.ModelChoiceField(
        Crew.objects.all(), required=False, empty_label="no crew", label="Crew", help_text="Of a truck."
    )


class RenameForm(forms.Form):
    place = forms.ModelChoiceField(Place.objects.all(), widget=forms.HiddenInput)
    name = forms.CharField(max_length=80, label="Name")
