"""A plan as few rolls as its lower bound is optimal: the definition of a bound, no source needed."""

from __future__ import annotations

import pytest

from materials.calc.verdict import verdict


@pytest.mark.parametrize(
    ("rolls_new", "at_least", "package", "said"),
    [
        pytest.param(4, 4, "roll", "4 rolls; no plan needs fewer", id="proven"),
        pytest.param(5, 4, "roll", "5 rolls; at least 4 are needed", id="gap"),
        pytest.param(1, 1, "roll", "1 roll; no plan needs fewer", id="one"),
        pytest.param(2, 1, "roll", "2 rolls; at least 1 is needed", id="at least one"),
        pytest.param(1, 0, "roll", "1 roll; whether remnants alone would do is not proven", id="perhaps none"),
        pytest.param(2, 2, "box", "2 boxes; no plan needs fewer", id="boxes"),
        pytest.param(0, 0, "roll", "cut from remnants; no new roll", id="remnants only"),
    ],
)
def test_verdict(rolls_new, at_least, package, said):
    assert verdict(rolls_new, at_least, package, is_anything_cut=True) == said


def test_nothing_to_cut():
    assert verdict(0, 0, "roll", is_anything_cut=False) == "nothing to cut"
