"""What no lift has."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from openings.calc.lifting_equation import composite_index, counted_h, frequency_of, horizontal_from_width_in
from openings.errors import BadLift
from tests.openings.calc.lifting_equation.made import hands, lift, part, session


@pytest.mark.parametrize(
    ("make", "field"),
    [
        pytest.param(lambda: lift("-1"), "load_lb", id="load"),
        pytest.param(lambda: lift("NaN"), "load_lb", id="no number"),
        pytest.param(lambda: lift(pace="-0.1"), "lifts_per_min", id="pace"),
        pytest.param(lambda: lift(hours="0"), "duration_h", id="duration"),
        pytest.param(lambda: lift(travel="-1"), "travel_in", id="travel"),
        pytest.param(lambda: replace(lift(), travel_in=None), "travel_in", id="neither travel nor destination"),
        pytest.param(lambda: hands("-1"), "horizontal_in", id="reach"),
        pytest.param(lambda: hands(angle="-1"), "asymmetry_deg", id="angle"),
        pytest.param(lambda: hands(10, "Infinity"), "vertical_in", id="height"),
        pytest.param(lambda: part(1, 0, 1), "firwl_lb", id="no RWL of a part"),
        pytest.param(lambda: composite_index([], duration_h=Decimal(1)), "parts", id="no parts"),
        pytest.param(lambda: frequency_of(-1), "lifts", id="lifts"),
        pytest.param(lambda: frequency_of(1, Decimal(0)), "minutes", id="sample"),
        pytest.param(lambda: counted_h([session(-1)]), "work_min", id="work"),
        pytest.param(lambda: horizontal_from_width_in(Decimal(0), Decimal(30)), "width_in", id="width"),
    ],
)
def test_what_no_lift_has_is_refused_by_its_field(make, field):
    with pytest.raises(BadLift) as refused:
        make()
    assert [fault.field for fault in refused.value.faults] == [field]
    assert "_" not in refused.value.detail
