from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from openings.calc.learning import MOST_ALIKE, Repetition, average_factor, exponent, total_hours, unit_hours
from openings.errors import BadRate

SLOPES_PCT = st.decimals("50.01", 100, places=2)


# b = ln(slope) / ln(2): arithmetic from unit theory, DoD Contract Pricing Reference Guide vol. 2 ch. 7.
@pytest.mark.parametrize(
    ("slope_pct", "b"),
    [(80, "-0.32193"), (90, "-0.15200"), (95, "-0.07400"), (100, "0")],
    ids=["80 %", "90 %", "95 %", "100 % is no learning"],
)
def test_exponent_follows_from_the_slope(slope_pct, b):
    assert round(exponent(Decimal(slope_pct)), 5) == Decimal(b)


# 3000, 2400, 1920, 1536 h: DoD Contract Pricing Reference Guide vol. 2 ch. 7. Unit 100, arithmetic: 681.2 (its chart
# is read as about 680).
@pytest.mark.parametrize(
    ("number", "hours"),
    [(1, "3000.0"), (2, "2400.0"), (4, "1920.0"), (8, "1536.0"), (100, "681.2")],
    ids=["first", "second", "fourth", "eighth", "hundredth"],
)
def test_each_doubling_leaves_the_slope_of_the_hours(number, hours):
    assert round(unit_hours(Decimal(3000), number, Decimal(80)), 1) == Decimal(hours)


def test_the_hundredth_unit_is_near_what_is_read_off_the_chart():
    # About 680: DoD Contract Pricing Reference Guide vol. 2 ch. 7.
    assert abs(unit_hours(Decimal(3000), 100, Decimal(80)) - 680) < 5


def test_total_and_average_are_of_the_units_one_by_one():
    # 3000 + 2400 + 3 ** b × 3000 + 1920 = 3000 + 2400 + 2106.3 + 1920: arithmetic from the same guide.
    assert round(total_hours(Decimal(3000), 4, Decimal(80)), 1) == Decimal("9426.3")
    assert round(average_factor(4, Decimal(80)), 4) == Decimal("0.7855")
    assert average_factor(1, Decimal(80)) == 1


@given(slope_pct=SLOPES_PCT, number=st.integers(1, 400))
def test_a_later_unit_never_takes_longer(slope_pct, number):
    first, second = (unit_hours(Decimal(10), n, slope_pct) for n in (number, number + 1))
    assert 0 < second <= first <= 10


@given(slope_pct=SLOPES_PCT, number=st.integers(1, 400))
def test_every_doubling_takes_the_same_part(slope_pct, number):
    once, twice = (Repetition(slope_pct, n).factor for n in (number, 2 * number))
    assert round(twice / once, 12) == round(slope_pct / 100, 12)


@given(slope_pct=SLOPES_PCT, count=st.integers(1, 100))
def test_a_total_grows_by_the_next_unit_while_the_average_falls(slope_pct, count):
    more = total_hours(Decimal(10), count + 1, slope_pct) - total_hours(Decimal(10), count, slope_pct)
    assert round(more, 12) == round(unit_hours(Decimal(10), count + 1, slope_pct), 12)
    assert average_factor(count + 1, slope_pct) <= average_factor(count, slope_pct) <= 1


@pytest.mark.parametrize(
    ("slope_pct", "number", "fields"),
    [(50, 1, ["slope_pct"]), ("100.1", 1, ["slope_pct"]), (80, 0, ["number"]), (80, MOST_ALIKE + 1, ["number"]),
     (0, 0, ["slope_pct", "number"])],
    ids=["half", "no learning but the reverse", "before the first", "a slip of the pen", "both"],
)  # fmt: skip
def test_a_slope_or_number_that_cannot_be_is_refused_by_name(slope_pct, number, fields):
    for compute in (
        lambda: Repetition(Decimal(slope_pct), number),
        lambda: unit_hours(Decimal(1), number, Decimal(slope_pct)),
        lambda: total_hours(Decimal(1), number, Decimal(slope_pct)),
        lambda: average_factor(number, Decimal(slope_pct)),
    ):
        with pytest.raises(BadRate) as refused:
            compute()
        assert [fault.field for fault in refused.value.faults] == fields
