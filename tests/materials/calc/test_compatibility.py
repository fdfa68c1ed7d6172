from __future__ import annotations

import pytest

from materials.calc.compatibility import Verdict, verdict_of

KNOWN = {("asphalt", "plasticized PVC"): Verdict.NOT_COMPATIBLE, ("butyl", "silicone"): Verdict.COMPATIBLE}


# Asphalt-based membrane and plasticized PVC do not go together: AAMA 713 guidance (trade pages on
# flashing compatibility); what nobody has listed is tested first.
@pytest.mark.parametrize(
    ("chemistry", "neighbor", "verdict"),
    [
        ("asphalt", "plasticized PVC", Verdict.NOT_COMPATIBLE),
        ("plasticized PVC", "asphalt", Verdict.NOT_COMPATIBLE),
        ("silicone", "butyl", Verdict.COMPATIBLE),
        ("asphalt", "silicone", Verdict.TEST_FIRST),
        ("butyl", "butyl", Verdict.TEST_FIRST),
    ],
)
def test_a_pair_is_known_either_way_round_or_tested_first(chemistry, neighbor, verdict):
    assert verdict_of(chemistry, neighbor, known=KNOWN) is verdict
