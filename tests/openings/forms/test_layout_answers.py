"""What a person chooses on the page of a draft settles what was asked there."""

from __future__ import annotations

from typing import Any

import pytest
from django.http import QueryDict

from openings.forms import ColumnsForm, TakeForm
from openings.schedules import ScheduleRead, layout_of, read_schedule
from tests.openings.forms.test_layout import as_shown, form_of
from tests.openings.schedules.files import xlsx
from tests.pages.schedules import make_outcome, opening

pytestmark = pytest.mark.django_db

HEAD = ["Mark", "Category", "Qty", "RO Width", "RO Height"]
MIXED = [HEAD, ["W1", "Window", 2, 36, 54], ["D1", "Door", 1, 36, 84], ["W2", "Window", 1, 24, 36]]


def read(lines: list[list[Any]], mapping: Any = None) -> ScheduleRead:
    return read_schedule(filename="windows.xlsx", content=xlsx(lines), settled=layout_of(mapping))


def answered(lines: list[list[Any]], **fields: Any) -> ScheduleRead:
    """Return what is read once these fields are filled in and the rest stays as it is shown."""
    form = form_of(read(lines))
    sent = as_shown(form)
    for name, value in fields.items():
        sent.setlist(name.replace("_", "-"), value if isinstance(value, list) else [value])
    form = form_of(read(lines), sent)
    assert form.is_valid(), form.errors
    return read(lines, form.mapping)


def test_values_whose_rows_are_left_out_are_boxes_with_their_counts() -> None:
    form = form_of(read(MIXED))
    assert form.fields["leave-B"].choices[:2] == [("Window", "Window (2)"), ("Door", "Door (1)")]
    assert form["leave-B"].value() == ""
    for leave, marks in ((["Door"], ["W1", "W2"]), (["nothing"], ["W1", "D1", "W2"]), (["Window"], ["D1"])):
        found = answered(MIXED, leave_B=leave)
        assert (found.questions, [row.mark for row in found.rows]) == ((), marks)
        again = form_of(found)
        assert again["leave-B"].value() == leave


def test_something_and_nothing_cannot_be_left_out_both() -> None:
    sent = as_shown(form_of(read(MIXED)))
    sent.setlist("leave-B", ["Door", "nothing"])
    form = form_of(read(MIXED), sent)
    assert not form.is_valid()
    assert "select one of the two" in str(form.errors)


def test_total_that_differs_is_settled_by_its_field() -> None:
    lines = [*MIXED[:2], ["Total", None, 5]]
    assert [asked.field for asked in read(lines).questions] == ["totals"]
    assert answered(lines).questions != ()
    assert answered(lines, totals="rows as read").questions == ()


def test_order_of_the_sides_is_settled_by_its_field() -> None:
    lines = [["Mark", "Qty", "Rough Openning"], ["W1", 2, '54" x 36"'], ["W2", 1, '60" x 24"']]
    for order, size in (("width", (54, 36)), ("height", (36, 54))):
        found = answered(lines, meaning_C="ro_size", order_C=order)
        assert found.questions == ()
        assert (found.rows[0].ro_width_in, found.rows[0].ro_height_in) == size


def test_column_that_was_not_read_goes_with_feet_as_inches() -> None:
    lines = [["Mark", "Qty", "RO Width ft", "Zoll", "RO Height"], *([f"W{n}", n, n, f"{n} 1/2", 54] for n in (2, 3))]
    found = answered(lines, meaning_D="ro_width_in", unit_E="in")
    assert found.faults == ()
    assert [float(row.ro_width_in or 0) for row in found.rows] == [26.5, 39.5]


def test_letters_of_feet_and_inches_are_given_together() -> None:
    form = ColumnsForm({"mark": "a", "ro_width_in": "b+c", "ro_height_in": "D", "unit": "mm"}, settled={})
    assert form.is_valid(), form.errors
    assert form.mapping["columns"] == {
        "A": {"meaning": "mark"},
        "B": {"meaning": "ro_width_in", "unit": "ft"},
        "C": {"meaning": "ro_width_in", "unit": "in"},
        "D": {"meaning": "ro_height_in", "unit": "mm"},
    }
    shown = ColumnsForm(settled=form.mapping)
    assert (shown["ro_width_in"].value(), shown["mark"].value(), shown["unit"].value()) == ("B+C", "A", "mm")
    assert not ColumnsForm({"mark": "A+B"}, settled={}).is_valid()


def test_a_first_file_leaves_out_what_has_no_tick_and_makes_something() -> None:
    outcome = make_outcome(openings=[opening("W1"), opening("D1")])
    outcome["counts"] = outcome["counts"] | {"added": 2}
    data = TakeForm(outcome=outcome, choice={}).initial
    assert data["seen"] == outcome["fingerprint"]

    def taken(**sent: Any) -> TakeForm:
        query = QueryDict(mutable=True)
        for name, value in sent.items():
            query.setlist(name, value)
        return TakeForm(query, outcome=outcome, choice={})

    one = taken(has_boxes=["True"], tick=["W1"])
    assert (one.is_valid(), one.left) == (True, frozenset({"D1"}))
    assert not taken(has_boxes=["True"]).is_valid()
    bare = taken()
    assert (bare.is_valid(), bare.left) == (True, frozenset())
