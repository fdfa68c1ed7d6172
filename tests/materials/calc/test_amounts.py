"""What a package holds is read as its label says it. 231 cu in a gallon, 2.54 cm an inch: NIST Handbook 44, app. C."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.errors import BadInput
from materials.calc.amounts import read_amount
from materials.calc.product import Measure


@pytest.mark.parametrize(
    ("text", "measure", "holds"),
    [
        ("75 ft", Measure.LENGTH, "900"),
        ("900", Measure.LENGTH, "900"),
        ("18.23", Measure.VOLUME, "18.23"),
        ("18.23 cu in", Measure.VOLUME, "18.23"),
        ("128 FL OZ", Measure.VOLUME, "231"),
        ("1 gal", Measure.VOLUME, "231"),
        ("300 ml", Measure.VOLUME, "18.30712"),
        ("1,000", Measure.COUNT, "1000"),
    ],
)
def test_an_amount_is_read(text, measure, holds):
    assert read_amount(text, measure) == Decimal(holds)


@pytest.mark.parametrize(
    ("text", "measure", "says"),
    [
        ("a roll", Measure.LENGTH, "write it like"),
        ("a tube", Measure.VOLUME, "10.1 fl oz"),
        ("3 pints", Measure.VOLUME, "10.1 fl oz"),
        ("nan", Measure.COUNT, "write it like 250"),
        ("2.5", Measure.COUNT, "write it like 250"),
        ("9" * 5_000, Measure.VOLUME, "is no volume"),
    ],
)
def test_what_is_no_amount_is_refused_with_what_is_right(text, measure, says):
    with pytest.raises(BadInput, match=says):
        read_amount(text, measure)
