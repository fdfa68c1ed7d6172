from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from materials.calc.product import (
    Attachment,
    Measure,
    ProductFacts,
    between,
    exposure_advice,
    shelf_life_advice,
    temperature_advice,
)
from materials.errors import BadProduct
from openings.calc.advice import Answer
from openings.calc.terms import FastenerKind
from openings.calc.units import METRIC


def roll(**facts: object) -> ProductFacts:
    values = {"code": "strip", "name": "strip", "measure": Measure.LENGTH, "package": "roll"}
    return ProductFacts(**values | {"package_quantity": Decimal(900)} | facts)


# Our rules: what cannot be true of a product on a shelf.
@pytest.mark.parametrize(
    ("facts", "field", "sentence"),
    [
        ({"package_quantity": Decimal(0)}, "package_quantity", "the package quantity is 0; it must be above 0"),
        ({"width_in": Decimal(0)}, "width_in", "the width is 0; it must be above 0"),
        ({"primer_sqft_per_gal": Decimal(-1)}, "primer_sqft_per_gal", "must be above 0"),
        ({"movement_class_pct": Decimal(0)}, "movement_class_pct", "must be above 0"),
        ({"trim_in": Decimal("-0.1")}, "trim_in", "the trim is -0.1; it must not be negative"),
        ({"trim_in": Decimal(900)}, "trim_in", "must be less than the 75' 0\" that the roll holds"),
        ({"shelf_life_days": -1}, "shelf_life_days", "must not be negative"),
        ({"needs_primer": True, "attachment": Attachment.MECHANICAL}, "needs_primer", "so it needs no primer"),
        (
            {"fastener_kind": FastenerKind.NAIL},
            "fastener_kind",
            "only what is counted in pieces holds a unit, not what is counted in inches",
        ),
        (
            {"serves_from_in": Decimal(2), "serves_up_to_in": Decimal(1)},
            "serves_from_in",
            "is 2, above the largest size served",
        ),
        (
            {"min_application_temp_f": Decimal(90), "max_application_temp_f": Decimal(40)},
            "min_application_temp_f",
            "is 90, above the highest application temperature, which is 40",
        ),
    ],
    ids=lambda value: value if isinstance(value, str) and " " not in value else None,
)
def test_what_cannot_be_true_is_refused_by_field(facts, field, sentence):
    with pytest.raises(BadProduct, match=sentence) as refused:
        roll(**facts)
    assert [fault.field for fault in refused.value.faults] == [field]


NAIL = {"measure": Measure.COUNT, "package": "box", "fastener_kind": FastenerKind.NAIL}
DIAMETER, PENETRATION = {"fastener_diameter_in": Decimal("0.12")}, {"fastener_penetration_in": Decimal(1)}


# Withdrawal needs kind, diameter and penetration: NDS 12.2. The rest is our rule.
@pytest.mark.parametrize(
    ("facts", "field", "sentence"),
    [
        (
            NAIL | DIAMETER,
            "fastener_penetration_in",
            "diameter is given and the fastener penetration is not; what a nail",
        ),
        (NAIL | PENETRATION, "fastener_diameter_in", "penetration is given and the fastener diameter is not"),
        (NAIL | DIAMETER | PENETRATION | {"fastener_kind": None}, "fastener_kind", "a nail or a screw"),
        (NAIL | PENETRATION | {"fastener_diameter_in": Decimal(0)}, "fastener_diameter_in", "it must be above 0"),
        (NAIL | PENETRATION | {"fastener_diameter_in": Decimal(3)}, "fastener_diameter_in", 'it is 1" at most'),
        (NAIL | DIAMETER | {"fastener_penetration_in": Decimal(30)}, "fastener_penetration_in", "it is 1' 0\" at most"),
        (NAIL | {"allowable_lb": Decimal(0)}, "allowable_lb", "the allowable load is 0; it must be above 0"),
        (NAIL | {"attachment": Attachment.SELF_ADHERED}, "attachment", "only what is counted in inches is attached"),
    ],
    ids=lambda value: value if isinstance(value, str) and " " not in value else None,
)
def test_a_fastener_is_described_whole_or_not_at_all(facts, field, sentence):
    with pytest.raises(BadProduct, match=sentence) as refused:
        roll(**facts)
    assert [fault.field for fault in refused.value.faults] == [field]


@pytest.mark.parametrize(
    "facts", [DIAMETER | PENETRATION, {"allowable_lb": Decimal(90)}, {}], ids=["sized", "rated", "not"]
)
def test_a_fastener_says_its_size_or_its_rating_or_nothing(facts):
    assert roll(**NAIL | facts).fastener_kind is FastenerKind.NAIL


def test_every_contradiction_is_named():
    with pytest.raises(BadProduct) as refused:
        roll(width_in=Decimal(0), trim_in=Decimal(-1))
    assert [fault.field for fault in refused.value.faults] == ["width_in", "trim_in"]


def test_a_trim_as_long_as_a_package_means_nothing_where_nothing_is_cut():
    assert roll(measure=Measure.COUNT, package_quantity=Decimal(1), trim_in=Decimal(1)).trim_in == 1


# Rubberized asphalt from 40 °F, with a primer or of a low-temperature grade from 25 °F: product ranges, from memory;
# at 40 °F and below frost can form: sealantsales.com, onsite consultation.
@pytest.mark.parametrize(
    ("low", "high", "answer"),
    [
        (40, 60, Answer.MET),
        (39, 60, Answer.TAKE_CARE),
        (20, 39, Answer.NOT_MET),
        (60, 101, Answer.TAKE_CARE),
        (101, 110, Answer.NOT_MET),
        (20, 110, Answer.TAKE_CARE),
    ],
)
def test_a_day_is_held_against_the_temperatures_of_the_product(low, high, answer):
    product = roll(min_application_temp_f=Decimal(40), max_application_temp_f=Decimal(100))
    advice = temperature_advice(product, low_f=Decimal(low), high_f=Decimal(high))
    assert (advice.rule, advice.answer) == ("application temperature", answer)
    assert f"from 40 °F up to 100 °F; the day has {low} °F to {high} °F" in advice.reason


@pytest.mark.parametrize(("low", "answer"), [(40, Answer.MET), (39, Answer.TAKE_CARE)])
def test_one_limit_is_enough(low, answer):
    product = roll(min_application_temp_f=Decimal(40))
    assert temperature_advice(product, low_f=Decimal(low), high_f=Decimal(120)).answer is answer


def test_temperatures_are_said_in_celsius_too():
    # 40 °F is 4 °C (4.4): sealantsales.com; degrees: NIST SP 811, appendix B.
    advice = temperature_advice(
        roll(min_application_temp_f=Decimal(40)), low_f=Decimal(50), high_f=Decimal(68), units=METRIC
    )
    assert advice.reason == "strip is applied from 4.4 °C; the day has 10 °C to 20 °C"


# 30 to 60 days for rubberized asphalt: product ranges, from memory.
@pytest.mark.parametrize(("days", "answer"), [(60, Answer.MET), (61, Answer.NOT_MET)])
def test_exposure_ends_with_the_limit_of_the_product(days, answer):
    advice = exposure_advice(roll(exposure_limit_days=60), days=days)
    assert (advice.rule, advice.answer) == ("exposure", answer)
    assert f"60 days; here it is for {days}" in advice.reason


# Age in days: arithmetic on the calendar.
@pytest.mark.parametrize(
    ("since", "answer", "reason"),
    [
        ({"made_on": date(2026, 1, 1)}, Answer.MET, "is 365 days old"),
        ({"made_on": date(2025, 12, 31)}, Answer.NOT_MET, "is 366 days old"),
        (
            {"received_on": date(2026, 6, 1)},
            Answer.TAKE_CARE,
            "214 days old at least, counted from the day it was received",
        ),
        ({"received_on": date(2025, 12, 1)}, Answer.NOT_MET, "396 days old at least"),
        ({"made_on": date(2026, 6, 1), "received_on": date(2025, 1, 1)}, Answer.MET, "214 days old"),
        ({}, Answer.CANNOT_TELL, "when this lot of strip was made"),
    ],
    ids=["last day", "a day more", "made nobody knows when", "too old for certain", "made counts first", "unknown"],
)
def test_a_lot_keeps_as_long_as_its_product_from_the_day_it_was_made(since, answer, reason):
    advice = shelf_life_advice(roll(shelf_life_days=365), on=date(2027, 1, 1), **since)
    assert (advice.rule, advice.answer) == ("shelf life", answer)
    assert reason in advice.reason


@pytest.mark.parametrize(
    "advice",
    [
        temperature_advice(roll(), low_f=Decimal(40), high_f=Decimal(60)),
        exposure_advice(roll(), days=1),
        shelf_life_advice(roll(), on=date(2027, 1, 1), made_on=date(2026, 1, 1)),
    ],
    ids=lambda advice: advice.rule,
)
def test_what_the_maker_does_not_say_cannot_be_told(advice):
    assert advice.answer is Answer.CANNOT_TELL
    assert "need info: " in advice.reason


def test_a_range_in_words_leaves_out_an_open_end():
    assert between(Decimal("0.25"), None) == 'from 1/4"'
    assert between(Decimal("0.25"), Decimal(1), units=METRIC) == "from 6.35 mm up to 25.4 mm"
