"""Metric at the edge: a field says its measure, and the name of each ends with it.

Outside sources: pint, whose definitions follow NIST SP 811 and SP 330; inch of 25.4 mm and pound of 0.45359237 kg,
NIST Handbook 44, appendix C.
"""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pint
import pytest
from django.apps import apps
from django.db.models import DecimalField
from hypothesis import given
from hypothesis import strategies as st
from rest_framework import serializers

from config import metric
from config.measured import MEASURES, Names, declared, shapes
from config.metric import PLACES, fault_in_metric
from jobs.errors import BadInput
from jobs.measures import MeasureField
from openings.calc.units import METRIC, US, Units

PINT = {
    "in": ("inch", "mm"), "ft": ("foot", "m"), "sqin": ("inch**2", "mm**2"), "sqft": ("foot**2", "m**2"),
    "cuin": ("inch**3", "ml"), "lb": ("pound", "kg"), "psf": ("force_pound/foot**2", "Pa"),
    "lb_per_ft": ("pound/foot", "kg/m"), "lb_per_in": ("force_pound/inch", "N/mm"), "f": ("degF", "degC"),
    "range_f": ("delta_degF", "delta_degC"),
}  # fmt: skip
REGISTRY = pint.UnitRegistry(non_int_type=Decimal)

NAMES = Names(
    measures={
        "ro_width_in": "in", "lites_in": "in", "weight_lb": "lb", "lb": "lb", "run_ft": "ft", "area_sqft": "sqft",
        "area_sqin": "sqin", "volume_cuin": "cuin", "design_pressure_psf": "psf", "low_f": "f", "high_f": "f",
        "joint_temp_range_f": "range_f", "frame_lb_per_ft": "lb_per_ft", "peel_lb_per_in": "lb_per_in",
        **{f"x_{end}": end for end in MEASURES}, **{f"side_{number}_in": "in" for number in range(9)},
    },
    amounts=["each", "quantity", "package_quantity"],
    rates=["rate_person_h"],
    units=["unit", "measure"],
    free=["mapping"],
)  # fmt: skip
"""What the bodies of these tests measure."""


def answered(body: Any) -> Any:
    return metric.to_metric(body, NAMES)


def from_body(body: Any, units: Units) -> Any:
    return metric.from_body(body, units, NAMES)


@pytest.mark.parametrize("end", MEASURES)
@pytest.mark.parametrize("figure", [0, 1, 36.03125, 480, -40])
def test_every_conversion_is_that_of_pint(end, figure):
    inside, metric = PINT[end]
    conversion = replace(MEASURES[end], places=Decimal("1e-9"))
    expected = REGISTRY.Quantity(Decimal(str(figure)), inside).to(metric).magnitude
    assert abs(conversion.to_metric(Decimal(str(figure))) - expected) <= Decimal("1e-8")


@pytest.mark.parametrize(
    ("end", "inside", "metric"),
    [
        ("in", "1", "25.4"),
        ("in", "36", "914.4"),
        ("ft", "1", "0.305"),
        ("lb", "1", "0.45"),
        ("lb", "51", "23.13"),  # 51 lb is 23.13 kg: DHHS/NIOSH 94-110, load constant, exactly converted
        ("f", "32", "0.0"),
        ("f", "212", "100.0"),
        ("f", "-40", "-40.0"),
        ("range_f", "180", "100.0"),  # from the ice point to the steam point on both scales
        ("psf", "6", "287.28"),  # about 290 Pa: constructionspecifier.com, testing glazing in the field
    ],
)
def test_figures_that_are_known(end, inside, metric):
    assert MEASURES[end].to_metric(Decimal(inside)) == Decimal(metric)


@pytest.mark.parametrize("end", MEASURES)
@given(data=st.data())
def test_a_metric_figure_comes_back_as_it_was_given(end, data):
    conversion = MEASURES[end]
    places = -conversion.places.as_tuple().exponent
    given_figure = data.draw(st.decimals(0, 12_000, places=places))
    name = f"x_{conversion.suffix}"
    inside = from_body({name: float(given_figure)}, METRIC)
    assert set(inside) == {f"x_{end}"}
    assert answered(inside) == {name: given_figure}
    assert inside[f"x_{end}"].as_tuple().exponent >= -5


@given(st.decimals(0, 480, places=5))
def test_inches_come_back_as_closely_as_a_thousandth_of_a_millimeter_allows(inches):
    back = from_body(answered({"x_in": inches}), METRIC)
    assert abs(back["x_in"] - inches) <= Decimal("0.00003")


@pytest.mark.parametrize(
    ("inside", "metric"),
    [
        ("ro_width_in", "ro_width_mm"),
        ("lites_in", "lites_mm"),
        ("weight_lb", "weight_kg"),
        ("lb", "kg"),
        ("run_ft", "run_m"),
        ("area_sqft", "area_sqm"),
        ("area_sqin", "area_sqmm"),
        ("volume_cuin", "volume_ml"),
        ("design_pressure_psf", "design_pressure_pa"),
        ("low_f", "low_c"),
        ("joint_temp_range_f", "joint_temp_range_c"),
        ("frame_lb_per_ft", "frame_kg_per_m"),
        ("peel_lb_per_in", "peel_n_per_mm"),
    ],
)
def test_a_name_and_its_twin(inside, metric):
    assert (NAMES.metric(inside).name, NAMES.inside(metric).name) == (metric, inside)


@pytest.mark.parametrize(
    "name",
    [
        "in", "m", "f", "_in", "", "comm", "mm", "basin", "wind_mph", "person_h", "place_in_roll", "sill_slope_deg",
        "expansion_per_f", "expansion_per_c", "glass_lb_per_sqft", "primer_sqft_per_gal", "count_per_m", "x_in\n",
    ],
)  # fmt: skip
def test_a_name_that_nothing_declares_has_no_twin(name):
    assert NAMES.metric(name) is NAMES.inside(name) is None


@pytest.mark.parametrize(
    ("body", "metric"),
    [
        ({"ro_width_in": Decimal("36.00000"), "mark": "W1"}, {"ro_width_mm": Decimal("914.4"), "mark": "W1"}),
        ({"weight_lb": None}, {"weight_kg": None}),
        ({"lites_in": [Decimal("0.125"), 1]}, {"lites_mm": [Decimal("3.175"), Decimal("25.4")]}),
        ({"lites_in": []}, {"lites_mm": []}),
        ({"a": [{"b": {"low_f": 50}}]}, {"a": [{"b": {"low_c": Decimal(10)}}]}),
        ({"weight": {"lb": 51.0}}, {"weight": {"kg": Decimal("23.13")}}),
        ({"joint_temp_range_f": 90}, {"joint_temp_range_c": Decimal(50)}),
        ({"is_in": True, "RO_in": "width", 7: 1}, {"is_in": True, "RO_in": "width", 7: 1}),
        ({"expansion_per_f": Decimal("0.000035")}, {"expansion_per_f": Decimal("0.000035")}),
        ([1, "2", None], [1, "2", None]),
        ({"mapping": {"lb": 51, "unit": "in", "each": 1}}, {"mapping": {"lb": 51, "unit": "in", "each": 1}}),
    ],
    ids=[
        "length", "nothing given", "list", "empty list", "deep", "bare lb", "range", "no numbers", "rate", "no object",
        "free",
    ],
)  # fmt: skip
def test_an_answer_has_its_measures_in_metric(body, metric):
    assert answered(body) == metric


@pytest.mark.parametrize(
    ("line", "metric"),
    [
        (
            {"count": 2, "each": 71, "quantity": 142, "unit": "in", "packages": Decimal("0.15778")},
            {"count": 2, "each": Decimal("1803.4"), "quantity": Decimal("3606.8"), "unit": "mm",
             "packages": Decimal("0.15778")},
        ),
        ({"quantity": 10, "measure": "cu in"}, {"quantity": Decimal("163.87"), "measure": "ml"}),
        ({"package_quantity": 900, "measure": "in"}, {"package_quantity": Decimal(22860), "measure": "mm"}),
        ({"each": 1, "quantity": 8, "unit": "each"}, {"each": 1, "quantity": 8, "unit": "each"}),
        (
            {"quantity": 10, "unit": "ft", "rate_person_h": Decimal("0.02"), "person_h": Decimal("0.2")},
            {"quantity": Decimal("3.048"), "unit": "m", "rate_person_h": Decimal("0.06562"),
             "person_h": Decimal("0.2")},
        ),
        ({"unit": "ft", "person_h": Decimal("0.02")}, {"unit": "ft", "person_h": Decimal("0.02")}),
        ({"quantity": 3}, {"quantity": 3}),
    ],
    ids=["strip", "bead", "roll", "pieces", "labor by the foot", "a rate alone", "no unit"],
)  # fmt: skip
def test_amounts_follow_the_unit_beside_them(line, metric):
    assert answered({"lines": [line]}) == {"lines": [metric]}


@pytest.mark.parametrize(
    ("sent", "inside"),
    [
        ({"ro_width_mm": 914.4}, {"ro_width_in": Decimal(36)}),
        ({"ro_width_mm": 915}, {"ro_width_in": Decimal("36.02362")}),
        ({"ro_width_mm": "915"}, {"ro_width_in": Decimal("36.02362")}),
        ({"ro_width_mm": "91.5 cm"}, {"ro_width_in": Decimal("36.02362")}),
        ({"ro_width_mm": '36 1/2"'}, {"ro_width_in": Decimal("36.5")}),
        ({"ro_width_mm": "3'-0\""}, {"ro_width_in": Decimal(36)}),
        ({"lites_mm": ["3.175", 25.4]}, {"lites_in": [Decimal("0.125"), Decimal(1)]}),
        ({"weight_kg": "20"}, {"weight_lb": Decimal("44.09")}),
        ({"low_c": -40, "high_c": "10.0"}, {"low_f": Decimal(-40), "high_f": Decimal(50)}),
        ({"joint_temp_range_c": 50}, {"joint_temp_range_f": Decimal(90)}),
        ({"design_pressure_pa": 2400}, {"design_pressure_psf": Decimal("50.125")}),
        ({"opening": {"ro_width_mm": 914.4}}, {"opening": {"ro_width_in": Decimal(36)}}),
        ({"package_quantity": 22860, "measure": "mm"}, {"package_quantity": Decimal(900), "measure": "in"}),
        ({"package_quantity": 300, "measure": "ml"}, {"package_quantity": Decimal("18.3071"), "measure": "cu in"}),
        ({"package_quantity": 50, "measure": "each"}, {"package_quantity": 50, "measure": "each"}),
        ({"measure": "mm"}, {"measure": "in"}),
        ({"weight_kg": None, "ro_width_mm": True}, {"weight_lb": None, "ro_width_in": True}),
        ({"weight_kg": "heavy", "low_c": "NaN"}, {"weight_lb": "heavy", "low_f": "NaN"}),
        ({"mapping": {"B": {"unit": "mm", "kg": 1}}}, {"mapping": {"B": {"unit": "mm", "kg": 1}}}),
        ({"mark": "W1", "tags": [1, {"x": None}]}, {"mark": "W1", "tags": [1, {"x": None}]}),
        ([], []),
        (None, None),
    ],
)
def test_a_metric_body_is_read_into_the_measures_inside(sent, inside):
    assert from_body(sent, METRIC) == inside


@pytest.mark.parametrize(
    ("units", "body", "field", "value", "said"),
    [
        (METRIC, {"ro_width_in": 36}, "ro_width_in", "36", "write ro_width_mm"),
        (METRIC, {"ro_width_in": 36, "ro_width_mm": 914.4}, "ro_width_in", "36", "same measure as ro_width_mm"),
        (US, {"ro_width_in": 36, "ro_width_mm": 914.4}, "ro_width_mm", "914.4", "same measure as ro_width_in"),
        (US, {"ro_width_mm": 914.4}, "ro_width_mm", "914.4", "add ?units=metric"),
        (US, {"a": [{"weight_kg": 20}]}, "a[0].weight_kg", "20", "or write weight_lb"),
        (METRIC, {"package_quantity": 900}, "package_quantity", "900", "no unit"),
        (METRIC, {"package_quantity": 900, "measure": "in"}, "measure", "in", "write “mm”"),
        (METRIC, {"ro_width_mm": "wide"}, "ro_width_mm", "wide", "“wide” is not a length"),
        (METRIC, {"ro_width_mm": "36 1/2"}, "ro_width_mm", "36 1/2", "fraction"),
        (METRIC, {"lites_mm": [3, "thin"]}, "lites_mm", "[3, 'thin']", "“thin” is not a length"),
        (METRIC, {"weight_kg": 10**40}, "weight_kg", str(10**40), "too large"),
    ],
    ids=[
        "inch name", "both, metric", "both, us", "metric name", "deep", "amount alone", "inside unit", "no length",
        "bare fraction", "in a list", "huge",
    ],
)  # fmt: skip
def test_what_would_mix_units_is_refused(units, body, field, value, said):
    with pytest.raises(BadInput) as refused:
        from_body(body, units)
    (fault,) = refused.value.faults
    assert (fault.field, fault.value) == (field, value)
    assert said in fault.detail
    assert refused.value.detail == f"{field}: {fault.detail}"


def test_every_fault_of_a_body_is_told():
    with pytest.raises(BadInput) as refused:
        from_body({f"side_{number}_mm": "wide" for number in range(9)}, METRIC)
    assert len(refused.value.faults) == 9
    assert refused.value.detail.count("is not a length") == 5


@given(st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3)
    | st.dictionaries(st.sampled_from(["mark", "x_mm", "x_in", "kg", "x_c", "unit", "measure", "each"]), inner),
    max_leaves=12,
), st.sampled_from([US, METRIC]))  # fmt: skip
def test_whatever_is_sent_is_read_or_refused(body, units):
    try:
        read = from_body(body, units)
    except BadInput:
        return
    assert units is METRIC or read == body


@pytest.mark.parametrize(
    ("field", "value", "metric"),
    [
        ("ro_width_in", "36.00000", ("ro_width_mm", "914.4")),
        ("opening.weight_lb", "", ("opening.weight_kg", "")),
        ("lites_in[1]", "0.125", ("lites_mm[1]", "3.175")),
        ("lites_in", "0.125 + 0.25", ("lites_mm", "")),
        ("mark", "36", ("mark", "36")),
        ("", "", ("", "")),
    ],
)
def test_a_fault_speaks_metric(field, value, metric):
    assert fault_in_metric(field, value) == metric


# Guards: what the API has today.


def test_a_name_is_of_one_measure_and_says_so():
    for name, measure in declared().measures.items():
        assert name == measure or name.endswith(f"_{measure}"), name
    for shape in shapes():
        for name, field in shape().fields.items():
            measured = getattr(field, "child", field)
            if isinstance(measured, MeasureField):
                assert declared().measures[name] == measured.measure, (shape, name)


def test_no_field_of_ours_could_be_taken_for_a_metric_one():
    named = {name for shape in shapes() for name in shape().fields}
    assert [name for name in named if declared().inside(name)] == []


def test_every_figure_that_is_called_as_a_measure_declares_it():
    silent = [
        (shape.__name__, name)
        for shape in shapes()
        for name, field in shape().fields.items()
        if isinstance(getattr(field, "child", field), serializers.DecimalField | serializers.FloatField)
        and re.search(rf"(^|_)(?<!_per_)({'|'.join(MEASURES)})$", name)
        and not isinstance(getattr(field, "child", field), MeasureField)
    ]
    assert silent == []


def test_every_amount_says_its_unit_beside_it():
    names = declared()
    silent = [
        shape
        for shape in shapes()
        if not (fields := shape().fields.keys()).isdisjoint(names.amounts) and fields.isdisjoint(names.units)
    ]
    assert silent == []


@pytest.mark.parametrize(
    "field",
    [
        pytest.param(field, id=str(field))
        for label in ("jobs", "openings", "materials")
        for model in apps.get_app_config(label).get_models()
        for field in model._meta.fields
        if isinstance(field, DecimalField) and field.name in declared().measures
    ],
)
def test_every_column_takes_a_metric_figure(field):
    """As many places as its metric twin needs to come back; fewer would be refused as too exact."""
    needed = PLACES[declared().metric(field.name).conversion.suffix]
    assert field.decimal_places >= -needed.as_tuple().exponent
