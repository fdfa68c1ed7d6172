"""By what a difference is known. That no release makes it another one is our own rule."""

from __future__ import annotations

from dataclasses import field, make_dataclass, replace
from decimal import Decimal
from types import SimpleNamespace

import pytest

from openings.calc.facts import OpeningFacts
from openings.calc.fingerprint import FACTS, fingerprint_of
from openings.calc.terms import FrameMaterial
from openings.schedules.difference import Change, DifferenceLine

FACTS_OF_ONE = OpeningFacts(
    ro_width_in=Decimal(36), ro_height_in=Decimal(54), unit_width_in=Decimal("35.5"), unit_height_in=Decimal("53.5")
)
OTHERWISE = {
    "ro_width_in": Decimal(37), "ro_height_in": Decimal(55),
    "unit_width_in": Decimal(35), "unit_height_in": Decimal(53),
    "operation": "fixed", "weight_lb": Decimal(80), "frame_material": next(iter(FrameMaterial)),
    "lites_in": (Decimal("0.25"),), "design_pressure_psf": Decimal(30), "sill_above_floor_in": Decimal(24),
}  # fmt: skip
LINE = DifferenceLine(
    change=Change.CHANGED, mark="W1", schedule_mark="W1", row=2, sheet="Windows", opening_id=7,
    old={"floor": "1", "ro_width_in": Decimal(36)}, new={"floor": "2", "ro_width_in": Decimal("36.5")},
    hindrance="it is started", follows="",
)  # fmt: skip


def added(**values: object) -> SimpleNamespace:
    return SimpleNamespace(**{"mark": "W9", "facts": FACTS_OF_ONE, "detail": "flange"} | values)


def test_the_list_names_every_figure_of_an_opening():
    assert OTHERWISE.keys() == set(FACTS)


@pytest.mark.parametrize("name", FACTS)
def test_each_figure_of_an_added_opening_counts(name):
    other = replace(FACTS_OF_ONE, **{name: OTHERWISE[name]})
    assert fingerprint_of([added(facts=other)], []) != fingerprint_of([added()], [])


@pytest.mark.parametrize(
    "values",
    [
        {"change": Change.REMOVED}, {"mark": "W2"}, {"schedule_mark": "W2"}, {"row": 3}, {"sheet": "More"},
        {"opening_id": 8}, {"old": {"floor": "3"}}, {"new": {"floor": "3"}}, {"hindrance": ""}, {"follows": "a hold"},
    ],
    ids=lambda values: next(iter(values)),
)  # fmt: skip
def test_each_figure_of_a_line_counts(values):
    assert fingerprint_of([], [replace(LINE, **values)]) != fingerprint_of([], [LINE])


def test_mark_and_detail_of_an_added_opening_count():
    assert len({fingerprint_of([one], []) for one in (added(), added(mark="W8"), added(detail="casing"))}) == 3


@pytest.mark.parametrize(
    "line",
    [
        replace(LINE, hindrance="it was begun"),
        replace(LINE, old={"ro_width_in": Decimal("36.000"), "floor": "1"}),
        make_dataclass("Wider", [("crane", str, field(default="no"))], bases=(DifferenceLine,), frozen=True)(
            **{name: getattr(LINE, name) for name in DifferenceLine.__dataclass_fields__}
        ),
    ],
    ids=["other words", "padding and order", "a field more"],
)
def test_what_does_not_count(line):
    assert fingerprint_of([], [line]) == fingerprint_of([], [LINE])


def test_a_fact_more_makes_no_difference():
    wider = make_dataclass("Wider", [("crane", str, field(default="no"))], bases=(OpeningFacts,), frozen=True)
    facts = wider(**{name: getattr(FACTS_OF_ONE, name) for name in FACTS})
    assert fingerprint_of([added(facts=facts)], []) == fingerprint_of([added()], [])
