"""Bin-packing instances by the construction rules of the literature; the same ones in every run.

The rules are restated from memory; no file of instances was read.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

Sizes = list[int]
Build = Callable[[random.Random], tuple[int, Sizes, int | None]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """Sizes to pack into as few bins of a capacity as possible; `optimum` where the construction tells it."""

    name: str
    capacity: int
    sizes: tuple[int, ...]
    optimum: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A rule by which instances are made, and where it was published."""

    source: str
    build: Build


def instances(name: str, count: int) -> list[Instance]:
    """Return the first so many instances of a kind."""
    return [_instance(name, number) for number in range(count)]


def _instance(name: str, number: int) -> Instance:
    chance = random.Random(f"{name} {number}")  # noqa: S311 (chance of no secret)
    capacity, sizes, optimum = KINDS[name].build(chance)
    chance.shuffle(sizes)
    return Instance(name=f"{name} #{number}", capacity=capacity, sizes=tuple(sizes), optimum=optimum)


def _uniform(capacity: int, least: int, most: int, count: int) -> Build:
    def build(chance: random.Random) -> tuple[int, Sizes, None]:
        return capacity, [chance.randint(least, most) for _ in range(count)], None

    return build


def _triplets(count: int) -> Build:
    """One item of 380–490, one from 250 to half the rest, and the rest: no two such items fill a bin of 1000."""

    def build(chance: random.Random) -> tuple[int, Sizes, int]:
        sizes = []
        for _ in range(count // 3):
            first = chance.randint(380, 490)
            second = chance.randint(250, (1000 - first) // 2)
            sizes += [first, second, 1000 - first - second]
        return 1000, sizes, count // 3

    return build


def _perfect(capacity: int, fewest: int, most: int) -> Build:
    def build(chance: random.Random) -> tuple[int, Sizes, int]:
        bins = chance.randint(20, 60)
        sizes = [size for _ in range(bins) for size in _parts(chance, capacity, chance.randint(fewest, most))]
        return capacity, sizes, bins

    return build


def _parts(chance: random.Random, whole: int, count: int) -> Sizes:
    marks = [0, *sorted(chance.sample(range(1, whole), count - 1)), whole]
    return [end - start for start, end in pairwise(marks)]


def _eleven_ninths(chance: random.Random) -> tuple[int, Sizes, int]:
    """First-fit decreasing takes 11 bins where 9 do, and the 9 are full."""
    capacity, times = 1000, chance.randint(2, 12)
    e = chance.randint(1, 20)
    half, quarter = capacity // 2, capacity // 4
    sizes = [half + e, quarter + 2 * e, quarter + e] * (6 * times) + [quarter - 2 * e] * (12 * times)
    return capacity, sizes, 9 * times


def _loose_eleven_ninths(chance: random.Random) -> tuple[int, Sizes, int]:
    """The same bins with an excess drawn for each item; the bins stay full."""
    capacity, times = 1000, chance.randint(2, 12)
    half, quarter = capacity // 2, capacity // 4
    sizes = []
    for _ in range(6 * times):
        one, two = chance.randint(1, 30), chance.randint(1, 30)
        sizes += [half + one, quarter + two, quarter - one - two]
    for _ in range(3 * times):
        one, two, three = chance.randint(2, 60), chance.randint(2, 60), chance.randint(2, 60)
        sizes += [quarter + one, quarter + two, quarter - three, quarter - one - two + three]
    return capacity, sizes, 9 * times


def _sevenths(chance: random.Random) -> tuple[int, Sizes, int]:
    """A seventh, a third and a half, each a little over: one bin takes one of each, and no two halves share one."""
    capacity, times = 1000 * 42, chance.randint(3, 20)
    over = [chance.randint(1, capacity // 42 // 3) for _ in range(3)]
    sizes = [size + e for size, e in zip((capacity // 7, capacity // 3, capacity // 2), over, strict=True)]
    return capacity, sizes * (6 * times), 6 * times


def _three_ranges(capacity: int) -> Build:
    def build(chance: random.Random) -> tuple[int, Sizes, None]:
        least, count = chance.choice((1, 20, 30)), chance.choice((50, 100, 200, 500))
        return capacity, [chance.randint(least, 100) for _ in range(count)], None

    return build


def _average_fill(items: int) -> Build:
    def build(chance: random.Random) -> tuple[int, Sizes, None]:
        spread, count = chance.choice((0.2, 0.5, 0.9)), chance.choice((50, 100, 200, 500))
        least, most = round(1000 / items * (1 - spread)), round(1000 / items * (1 + spread))
        return 1000, [chance.randint(least, most) for _ in range(count)], None

    return build


def _demanded(chance: random.Random) -> tuple[int, Sizes, None]:
    """Some sizes between two shares of the capacity, with demands that add up to a set average."""
    capacity = 10_000
    kinds, average = chance.choice((10, 20, 30, 40, 50)), chance.choice((2, 3, 5))
    least, most = chance.choice((0.005, 0.01, 0.1, 0.15)), chance.choice((0.25, 0.5, 0.75))
    demands = _parts(chance, kinds * average, kinds)
    sizes = [chance.randint(round(least * capacity), round(most * capacity)) for _ in demands]
    return capacity, [size for size, demand in zip(sizes, demands, strict=True) for _ in range(demand)], None


def _nearly_full(chance: random.Random) -> tuple[int, Sizes, None]:
    """Sizes of 1–800 drawn until their sum leaves at most a fiftieth of one bin empty."""
    count = chance.choice((160, 180, 200))
    while True:
        sizes = [chance.randint(1, 800) for _ in range(count)]
        if -sum(sizes) % 1000 <= 20:
            return 1000, sizes, None


FALKENAUER = "E. Falkenauer, A hybrid grouping genetic algorithm for bin packing, J. Heuristics 2 (1996)"
SCHOLL = "A. Scholl, R. Klein, C. Juergens, BISON, Computers & Operations Research 24 (1997)"
SCHWERIN = "P. Schwerin, G. Waescher, The bin-packing problem: a problem generator, Int. Trans. Op. Res. 4 (1997)"
JOHNSON = "D. S. Johnson, Near-optimal bin packing algorithms (thesis, MIT 1973)"
PERFECT = "bins cut at random into parts (our choice; no published source)"

KINDS: dict[str, Kind] = {
    **{f"uniform {n}": Kind(source=FALKENAUER, build=_uniform(150, 20, 100, n)) for n in (120, 250, 500, 1000)},
    **{f"triplets {n}": Kind(source=FALKENAUER, build=_triplets(n)) for n in (60, 120, 249, 501)},
    **{
        f"perfect {capacity}, {fewest}-{most} parts": Kind(source=PERFECT, build=_perfect(capacity, fewest, most))
        for capacity in (1000, 10_000)
        for fewest, most in ((2, 12), (2, 5))
    },
    "eleven ninths": Kind(source=f"{JOHNSON}; 11 bins for 9", build=_eleven_ninths),
    "loose eleven ninths": Kind(source=f"{JOHNSON}; the excess drawn (our choice)", build=_loose_eleven_ninths),
    "sevenths": Kind(source=f"{JOHNSON}; 1/7, 1/3, 1/2, each a little over", build=_sevenths),
    **{
        f"narrow {least}-200, {n}": Kind(source=SCHWERIN, build=_uniform(1000, least, 200, n))
        for least in (150, 120)
        for n in (100, 120)
    },
    **{
        f"bins of {capacity}": Kind(source=f"{SCHOLL}, set 1", build=_three_ranges(capacity))
        for capacity in (100, 120, 150)
    },
    **{f"{items} a bin": Kind(source=f"{SCHOLL}, set 2", build=_average_fill(items)) for items in (3, 5, 7, 9)},
    "hard": Kind(source=f"{SCHOLL}, set 3", build=_uniform(100_000, 20_000, 35_000, 200)),
    "demanded": Kind(
        source="T. Gau, G. Waescher, CUTGEN1, European J. of Operational Research 84 (1995)", build=_demanded
    ),
    "nearly full": Kind(
        source="after J. E. Schoenfield, Fast, exact solution of open bin packing problems (2002), n 160–200",
        build=_nearly_full,
    ),
}
