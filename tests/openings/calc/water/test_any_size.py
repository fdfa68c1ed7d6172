"""Walls of any size: right ones pass, and one piece laid too late is named, whatever the figures.

Order: AWDI manual p. 23, AAMA 2400-10 cl. 5.7.3; pan under the unit and over the sill strip: Building Science Corp.
Info-302; shingle laps: IRC R703.4.
"""

from __future__ import annotations

import random
from decimal import Decimal

import pytest

from openings.calc.water.faults import Severity
from openings.calc.water.layers import Layer
from openings.calc.water.verdict import water_path
from tests.openings.calc.water.walls import METHODS, Sizes, moved, wall, without

SEEDS = range(12)


def any_sizes(seed: int) -> Sizes:
    chance = random.Random(seed)

    def some(least: int, most: int, parts: int = 8) -> Decimal:
        return Decimal(chance.randint(least * parts, most * parts)) / parts

    return Sizes(
        width=some(16, 120),
        height=some(16, 120),
        strip=some(9, 18),
        short=some(0, 2),
        gap=some(0, 1) / 2,
        flange=some(1, 2) + Decimal("0.25"),
        front_lap=some(1, 5),
        turn_up=some(4, 8),
    )


TOO_LATE = {
    "sill strip": ("sill strip", "unit", {"jambs-before-sill", "pan-before-sill", "sill-over-unit"}),
    "sill strip after the pan": ("sill strip", "left jamb strip", {"pan-before-sill", "jambs-before-sill"}),
    "pan": ("pan", "head strip", {"pan-after-unit"}),
    "jamb strips": ("jamb strip", "WRB, course 1", {"head-before-jambs"}),
    "unit": ("unit", "WRB, course 1", {"unit-over-head"}),
}
"""What is laid too late, before what instead, and the names of which one must come; for method B."""


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("method", METHODS)
def test_a_right_wall_of_any_size_passes(method: str, seed: int) -> None:
    sizes = any_sizes(seed)
    assert water_path(wall(sizes, METHODS[method](sizes))).faults == ()


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("late", TOO_LATE)
def test_what_is_laid_too_late_is_named(late: str, seed: int) -> None:
    sizes, (name, before, expected) = any_sizes(seed), TOO_LATE[late]
    verdict = water_path(wall(sizes, moved(METHODS["B"](sizes), name, before=before)))
    assert verdict.leaks
    assert {fault.name.value for fault in verdict.faults} & expected


SWAPS = [
    ("sill strip", "pan"),
    ("sill strip", "left jamb strip"),
    ("left jamb strip", "head strip"),
    ("unit", "head strip"),
]


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("pair", SWAPS)
@pytest.mark.parametrize("method", METHODS)
def test_two_pieces_that_change_places_leak(method: str, pair: tuple[str, str], seed: int) -> None:
    sizes = any_sizes(seed)
    layers = _swapped(METHODS[method](sizes), *pair)
    faults = water_path(wall(sizes, layers)).faults
    assert any(fault.severity in (Severity.LEAK, Severity.SECOND_LINE) for fault in faults)


def _swapped(layers: list[Layer], first: str, second: str) -> list[Layer]:
    places = {layer.name: at for at, layer in enumerate(layers)}
    changed = list(layers)
    changed[places[first]], changed[places[second]] = layers[places[second]], layers[places[first]]
    return changed


def test_the_same_wall_is_judged_the_same_mirrored() -> None:
    """Left and right of the opening are alike: a fault of one jamb is one of the other."""
    sizes = any_sizes(1)
    names = [
        {fault.name for fault in water_path(wall(sizes, without(METHODS["B"](sizes), side))).faults}
        for side in ("left", "right")
    ]
    assert names[0] == names[1] != set()
