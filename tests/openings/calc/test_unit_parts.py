"""Panes and clear openings are parts of their unit (geometry)."""

from __future__ import annotations

from decimal import Decimal

import pytest

from openings.calc.unit_parts import PART_OF, require_parts_within
from openings.errors import BadLength

UNIT = {"unit_width_in": Decimal("35.5"), "unit_height_in": Decimal("53.5")}


@pytest.mark.parametrize("part", PART_OF)
def test_a_part_as_large_as_its_unit_passes_and_a_larger_one_is_refused_by_its_field(part):
    most_in = UNIT[PART_OF[part]]
    require_parts_within(UNIT | {part: most_in})
    require_parts_within(UNIT | {part: None})
    with pytest.raises(BadLength, match="part of the unit") as refused:
        require_parts_within(UNIT | {part: most_in + Decimal("0.0625")})
    assert [fault.field for fault in refused.value.faults] == [part]


def test_the_refusal_says_both_figures():
    with pytest.raises(BadLength) as refused:
        require_parts_within(UNIT | {"pane_width_in": Decimal(36)})
    assert refused.value.detail == (
        "the pane width is 3' 0\", more than the unit width of 2' 11 1/2\"; it is a part of the unit: correct one of "
        "the two"
    )
