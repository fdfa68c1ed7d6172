"""What is typed or chosen on the pages of materials ⇄ values, split by noun."""

from materials.forms.compatibility import EvidenceForm, PairForm
from materials.forms.count import CountForm, PlaceForm, RenameForm
from materials.forms.product import (
    ChooseForm,
    DropForm,
    ProductForm,
    ProductListForm,
    StartForm,
    line_form,
    product_values,
)
from materials.forms.stock import EnterRemnantForm, LoadForm, RequestSheetForm, ScrapForm, SettleForm, where_of

__all__ = [
    "ChooseForm",
    "CountForm",
    "DropForm",
    "EnterRemnantForm",
    "EvidenceForm",
    "LoadForm",
    "PairForm",
    "PlaceForm",
    "ProductForm",
    "ProductListForm",
    "RenameForm",
    "RequestSheetForm",
    "ScrapForm",
    "SettleForm",
    "StartForm",
    "line_form",
    "product_values",
    "where_of",
]
