"""A product as it is typed on a form, or stands in a line of a list ⇄ values."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from decimal import Decimal
from typing import Any, cast

from django import forms

from jobs.errors import CallerError
from materials.calc.amounts import read_amount
from materials.calc.product import Attachment, Measure
from materials.calc.product_columns import MEASURE_WORDS, PRODUCT_COLUMNS, REQUIRED_COLUMNS
from materials.calc.rolls import KEEP_IN
from materials.models import Product
from materials.models.values import ProductValues
from openings.calc.figures import plain
from openings.calc.tape import format_length, read_length
from openings.calc.terms import FastenerKind
from openings.calc.units import US
from openings.forms import ListFileForm, TapeField

WHERE_EMPTY: Mapping[str, Any] = {
    "trim_in": Decimal(0), "shortest_remnant_in": KEEP_IN, "spare_pct": Decimal(0), "spare_pieces": 0,
}  # fmt: skip
"""What a column is that may not be empty and that nobody gave."""

GROUPS: Mapping[str, tuple[str, ...]] = {
    "What it is": ("code", "name", "chemistry"),
    "How it is packed": ("measure", "package", "package_quantity", "width_in"),
    "How it is cut": ("trim_in", "shortest_remnant_in"),
    "What it serves": ("serves_from_in", "serves_up_to_in", "attachment", "movement_class_pct"),
    "What its maker allows": (
        "min_application_temp_f", "max_application_temp_f", "exposure_limit_days", "shelf_life_days", "needs_primer",
        "primer_sqft_per_gal",
    ),
    "What you take beyond the need": ("spare_pct", "spare_pieces"),
    "A nail, screw or strap": (
        "fastener_kind", "fastener_diameter_in", "fastener_penetration_in", "allowable_lb",
    ),
}  # fmt: skip
"""The columns as they are asked for, those that belong together side by side."""

_NO = {"", "no", "n", "false", "0"}


def _figure(
    *, digits: int = 7, places: int = 2, least: Decimal | None = None, help_text: str = ""
) -> forms.DecimalField:
    return forms.DecimalField(
        max_digits=digits,
        decimal_places=places,
        min_value=least,
        required=False,
        help_text=help_text,
        widget=forms.NumberInput(attrs={"step": "any", "inputmode": "decimal"}),
    )


def _days() -> forms.IntegerField:
    return forms.IntegerField(min_value=0, max_value=32_000, required=False)


class ExactTapeField(TapeField):
    """A length that is shown on the tape where the tape has it, else in decimals, so that it is read back the same."""

    def prepare_value(self, value: Any) -> Any:
        return _exactly(value, is_small=self.is_small) if isinstance(value, Decimal) else value


def _exactly(length_in: Decimal, *, is_small: bool = False) -> str:
    on_tape = format_length(length_in)
    return on_tape if read_length(on_tape, is_small=is_small) == length_in else plain(length_in)


class ProductForm(forms.Form):
    """One product. Lengths are read in tape notation; what a package holds, in the measure of the product."""

    code = forms.SlugField(max_length=40, help_text="Letters, digits and dashes, such as a short item number.")
    name = forms.CharField(max_length=120, help_text="As it is called on pull sheets.")
    measure = forms.ChoiceField(choices=[(one.value, one.plainly) for one in Measure])
    package = forms.ChoiceField(choices=Product.Package.choices)
    package_quantity = forms.CharField(
        max_length=40,
        help_text="Of a roll its length, such as 75 ft; of a cartridge such as 10.1 fl oz; of a box how many pieces.",
        widget=forms.TextInput(attrs={"autocomplete": "off", "size": 12}),
    )
    width_in = ExactTapeField(required=False, help_text="Of a roll; blank where width means nothing.")
    trim_in = ExactTapeField(required=False, is_small=True)
    shortest_remnant_in = ExactTapeField(required=False, help_text=f"Blank for {US.say(KEEP_IN)}.")
    chemistry = forms.CharField(
        max_length=60, required=False, help_text="Such as butyl or rubberized asphalt: decides what it may touch."
    )
    attachment = forms.ChoiceField(
        required=False, choices=[("", "not a strip or membrane"), *((one.value, one.value) for one in Attachment)]
    )
    needs_primer = forms.BooleanField(required=False)
    primer_sqft_per_gal = _figure(least=Decimal("0.01"), help_text="Where this is a primer.")
    min_application_temp_f = _figure(digits=5, places=1)
    max_application_temp_f = _figure(digits=5, places=1)
    exposure_limit_days = _days()
    shelf_life_days = _days()
    movement_class_pct = _figure(digits=5, places=1, least=Decimal("0.1"), help_text="Of a sealant: ASTM C920 class.")
    serves_from_in = ExactTapeField(
        required=False, help_text="Smallest gap of a rod, bead of a sealant, or opening width of anything else."
    )
    serves_up_to_in = ExactTapeField(required=False)
    spare_pct = _figure(digits=5, least=Decimal(0), help_text="Percent or pieces, not both.")
    spare_pieces = _days()
    fastener_kind = forms.ChoiceField(
        required=False, choices=[("", "no fastener"), *((one.value, one.value) for one in FastenerKind)]
    )
    fastener_diameter_in = ExactTapeField(required=False, is_small=True)
    fastener_penetration_in = ExactTapeField(required=False, is_small=True)
    allowable_lb = _figure(digits=12, places=5, least=Decimal(0), help_text="As its product approval says.")

    def __init__(
        self, data: Any = None, *, product: Product | None = None, only: Collection[str] | None = None
    ) -> None:
        """Show a product, or read one.

        Args:
            product: the one that is changed.
            only: the columns that are given, where the others stay; all of them by default.
        """
        super().__init__(data, initial=initial_of(product) if product else {"trim_in": Decimal(0)})
        self._measure = Measure(product.measure) if product else None
        for name, label in PRODUCT_COLUMNS.items():
            self.fields[name].label = label
        for name in [] if only is None else set(self.fields) - set(only):
            del self.fields[name]

    @property
    def groups(self) -> list[tuple[str, list[forms.BoundField]]]:
        """The fields as they are shown."""
        return [(title, [self[name] for name in names]) for title, names in GROUPS.items()]

    def clean(self) -> dict[str, Any]:
        """Read what a package holds, and give what may not be empty its usual value."""
        values = self.cleaned_data
        for name, usual in WHERE_EMPTY.items():
            if name in values and values[name] is None:
                values[name] = usual
        measure = Measure(values["measure"]) if values.get("measure") else self._measure
        if measure and values.get("package_quantity"):
            try:
                values["package_quantity"] = read_amount(values["package_quantity"], measure)
            except CallerError as error:
                self.add_error("package_quantity", error.detail)
        return values


def initial_of(product: Product) -> dict[str, Any]:
    """Return a product as its form shows it."""
    shown: dict[str, Any] = {name: getattr(product, name) for name in PRODUCT_COLUMNS}
    holds = product.package_quantity
    shown["package_quantity"] = _exactly(holds) if product.measure == Measure.LENGTH else plain(holds)
    for name, value in shown.items():
        if isinstance(value, Decimal) and not name.endswith("_in"):
            shown[name] = plain(value)
    return shown


def line_form(values: Mapping[str, str], *, product: Product | None) -> ProductForm:
    """Return the form of one line of a list.

    Args:
        values: the text of each column that the list has.
        product: the one of that code, whose other columns stay.
    """
    sent = dict(values)
    if "measure" in sent:
        sent["measure"] = MEASURE_WORDS.get(sent["measure"].casefold().strip(" ."), sent["measure"])
    for name in ("package", "attachment", "fastener_kind"):
        if name in sent:
            sent[name] = sent[name].casefold()
    if sent.get("needs_primer", "").casefold() in _NO:
        sent.pop("needs_primer", None)
    given = set(values) if product else {*values, *REQUIRED_COLUMNS, *WHERE_EMPTY}
    return ProductForm(sent, product=product, only=given)


def product_values(form: ProductForm) -> ProductValues:
    """Return the columns of a form that is valid."""
    return cast(ProductValues, form.cleaned_data)


class ProductListForm(ListFileForm):
    """A list of products to look at before it is taken."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["file"].label = "Product list"


class StartForm(forms.Form):
    """Which products of the starting list are added."""

    codes = forms.MultipleChoiceField(error_messages={"required": "select at least one product"})

    def __init__(self, data: Any = None, *, choices: Collection[tuple[str, str]]) -> None:
        super().__init__(data)
        cast(forms.MultipleChoiceField, self.fields["codes"]).choices = list(choices)


class ChooseForm(forms.Form):
    """A product for a part."""

    part = forms.CharField(max_length=30, widget=forms.HiddenInput)
    product = forms.ModelChoiceField(Product.objects.in_service(), error_messages={"required": "choose a product"})


class DropForm(forms.Form):
    choice = forms.IntegerField(widget=forms.HiddenInput)
