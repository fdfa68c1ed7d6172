"""The form of a layout: what it shows and nobody changes is read again as it was."""

from __future__ import annotations

import pytest
from django.http import QueryDict

from openings.forms import LayoutForm
from openings.schedules import ScheduleRead, layout_of, packed, unpacked
from tests.openings.schedules.layouts import Case
from tests.openings.schedules.test_layouts_settled import CASES

pytestmark = pytest.mark.django_db


def form_of(read: ScheduleRead, data: QueryDict | None = None) -> LayoutForm:
    kept = {
        "tables": list(read.tables),
        "proposal": list(read.proposal),
        "questions": list(read.questions),
        "mapping": read.layout.as_json(),
    }
    return LayoutForm(data, outcome=unpacked(packed(kept)), settled={}, detail="", job_id=1)


def as_shown(form: LayoutForm) -> QueryDict:
    """Return what a browser sends of a form that nobody touched."""
    sent = QueryDict(mutable=True)
    for name in form.fields:
        value = form[name].value()
        sent.setlist(name, value if isinstance(value, list) else [value or ""])
    return sent


@pytest.mark.parametrize("case", [case for _, case in CASES], ids=[f"{noun}: {case.name}" for noun, case in CASES])
def test_what_is_shown_and_left_is_read_again_as_it_was(case: Case) -> None:
    read = case.read()
    if any(question.field == "tables" for question in read.questions):
        return
    form = form_of(read, as_shown(form_of(read)))
    assert form.is_valid(), form.errors
    again = case.read(settled=layout_of(form.mapping))
    assert again.rows == read.rows
    assert {question.field for question in again.questions} == {question.field for question in read.questions}
