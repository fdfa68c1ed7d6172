"""Forms of openings and details: every column has its field, and what is shown and sent back is the same."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, get_type_hints

import pytest
from django.http import QueryDict

from openings.calc.facts import ANSWERS
from openings.calc.starting_details import STARTING_DETAILS
from openings.forms import DetailForm, NewOpeningForm, OpeningForm
from openings.forms.entry import EntryForm
from openings.models import InstallationDetail, Opening
from openings.models.values import DetailValues, OpeningChanges
from openings.services import add_detail
from tests.factories import DetailFactory, JobFactory, OpeningFactory

pytestmark = pytest.mark.django_db


def shown(form: EntryForm) -> QueryDict:
    """Return what a browser sends of a form that nobody touched."""
    sent = QueryDict(mutable=True)
    for field in form:
        if (value := field.value()) is not None:
            sent[field.html_name] = str(value)
    return sent


def test_every_column_has_its_field():
    opening = {name for group in OpeningForm.columns.values() for name in group}
    assert opening == get_type_hints(OpeningChanges).keys() - {"job"} | {"weight_confirmed"}
    detail = {name for group in DetailForm.columns.values() for name in group}
    assert detail == get_type_hints(DetailValues).keys() - {"job", "own_order"}


@pytest.mark.parametrize("start", STARTING_DETAILS)
def test_a_detail_that_is_shown_and_sent_back_is_the_same(start: str):
    detail = add_detail(job=JobFactory(), name="as it is", starting_point=start, end_lap_in=Decimal("3.14961"))
    form = DetailForm(shown(DetailForm(row=detail)), row=detail)
    assert form.is_valid(), form.errors
    assert {name: getattr(detail, name) for name in form.cleaned_data} == form.cleaned_data
    assert set(ANSWERS) - set(form.cleaned_data) == {"own_order"}


def test_an_opening_that_is_shown_and_sent_back_is_the_same():
    given: dict[str, Any] = {
        "ro_width_in": Decimal("36.02362"), "sill_above_grade_in": Decimal("-12.5"), "weight_lb": Decimal("120.50"),
        "lites_in": [Decimal("0.125"), Decimal("0.25")], "is_egress": True, "is_wet_area": False, "storeys_up": 2,
    }  # fmt: skip
    opening = Opening.objects.get(pk=OpeningFactory(**given).pk)
    details = [opening.detail]
    form = OpeningForm(shown(OpeningForm(row=opening, details=details)), row=opening, details=details)
    assert form.is_valid(), form.errors
    values = {name: value for name, value in form.cleaned_data.items() if name != "weight_confirmed"}
    assert {name: getattr(opening, name) for name in values} == values


SENT = {"mark": "W1", "count": "1", "access": "clear", "storeys_up": "0"}


@pytest.mark.parametrize(
    ("unit", "width_in"),
    [({}, Decimal("35.5")), ({"unit_width_in": "34 3/4"}, Decimal("34.75"))],
    ids=["no side", "width"],
)
def test_what_is_left_out_of_a_unit_follows_by_the_clearance_of_the_detail(unit: dict[str, str], width_in: Decimal):
    detail = DetailFactory()
    sent = SENT | {"detail": str(detail.pk), "ro_width_in": "3'", "ro_height_in": "4' 6\""} | unit
    form = NewOpeningForm(sent, details=[detail])
    assert form.is_valid(), form.errors
    assert (form.cleaned_data["unit_width_in"], form.cleaned_data["unit_height_in"]) == (width_in, Decimal("53.5"))


def test_what_nobody_gave_of_a_size_is_said_at_its_field():
    detail = InstallationDetail.objects.get(pk=DetailFactory().pk)
    form = NewOpeningForm(SENT | {"detail": str(detail.pk), "ro_width_in": "36"}, details=[detail])
    assert "give the height of the rough opening" in form.errors["ro_height_in"][0]
