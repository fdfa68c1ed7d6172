"""Sessions and samples against DHHS/NIOSH 94-110 (rev. 9/2021)."""

from __future__ import annotations

from decimal import Decimal

import pytest

from openings.calc.lifting_equation import counted_h, duration_category, frequency_of
from openings.calc.lifting_equation.duration import LONG, MODERATE, SHORT
from tests.openings.calc.lifting_equation.made import session


# 94-110 p. 13-14.
@pytest.mark.parametrize(
    ("sessions", "category"),
    [
        pytest.param([session(30, 10), session(45)], MODERATE, id="30 and 45 min, 10 between: added up"),
        pytest.param([session(30, 30), session(45)], SHORT, id="30 and 45 min, 30 between"),
        pytest.param([session(60)], SHORT, id="1 h"),
        pytest.param([session(120, 36), session(5)], MODERATE, id="2 h and 36 min of recovery"),
        pytest.param([session(120, 35), session(5)], LONG, id="2 h and too little recovery"),
        pytest.param([session(480)], LONG, id="8 h"),
        pytest.param([session(481)], None, id="more than 8 h"),
        pytest.param([session(120, 60)] * 5, None, id="10 h in all"),
    ],
)
def test_duration_with_recovery(sessions, category):
    assert duration_category(sessions) is category


def test_sessions_without_recovery_count_as_one():
    # 94-110 p. 14: 30 min and 45 min make 75 min.
    assert counted_h([session(30, 10), session(45)]) * 60 == 75


# 94-110 p. 16. Its 50 lifts in 15 min are printed as 3.4; exact is 3.33.
@pytest.mark.parametrize(("lifts", "pace"), [(80, "5.33"), (50, "3.33"), (15, "1")])
def test_frequency_of_a_sample_of_15_minutes(lifts, pace):
    assert round(frequency_of(lifts), 2) == Decimal(pace)
