"""Which walls shed water, and the name of what does not, each by a source beside it or by common practice.

Order and extents: AAMA 2400-10 cl. 5.7.3, AWDI manual p. 23. Pan: Building Science Corp. Info-302. Laps of the WRB:
IRC R703.2. Flashing laps like shingles: IRC R703.4. What is at the head of a casing: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from itertools import permutations

import pytest

from openings.calc.water.faults import Severity
from openings.calc.water.layers import Layer, Role, Tuck, Wall
from openings.calc.water.verdict import Verdict, water_path
from tests.openings.calc.water.walls import (
    BONDED,
    CASING,
    FREE,
    METHODS,
    Sizes,
    cap,
    casing,
    changed,
    courses,
    flap,
    head,
    jambs,
    membrane,
    method_a,
    method_a1,
    method_b,
    method_b1,
    moved,
    pan,
    rect,
    second,
    sill,
    unit,
    wall,
    without,
    wrap_first,
    wrap_last,
)

S, C = Sizes(), CASING
FULL, GAPS = {"bottom": BONDED}, {"bottom": BONDED, "bottom_gaps": 2}


def names_of(verdict: Verdict) -> set[str]:
    return {fault.name.value for fault in verdict.faults if fault.severity is not Severity.NOTE}


def notes_of(verdict: Verdict) -> set[str]:
    return {fault.name.value for fault in verdict.faults if fault.severity is Severity.NOTE}


def with_wrap(layers: list[Layer], sheet: Layer) -> list[Layer]:
    return [*without(layers, "WRB"), sheet]


def wrap_under(layers: list[Layer], **answers: object) -> list[Layer]:
    """The WRB first, whatever its flap."""
    return [wrap_first(S, **answers), *without(layers, "WRB")]  # type: ignore[arg-type]


def upright_joint(lap: str) -> list[Layer]:
    """Method B1 with the wrap in two sheets that lap at an upright joint beside the opening."""
    m = S.margin
    joint = -S.strip - 7
    first = Layer(name="WRB, left", role=Role.WRB, rects=(rect(-m, -m, joint + Decimal(lap), S.height + m),))
    sheet = wrap_first(S, head_flap=flap(S, S.strip))
    rects = (rect(joint, -m, 0, S.height + m), *sheet.rects[1:])
    return [first, replace(sheet, rects=rects), *without(method_b1(S), "WRB")]


def upright_joint_below(lap: int) -> list[Layer]:
    """Method B with the lower course of the WRB in two sheets."""
    m = S.margin
    sheets = [
        Layer(name="WRB, left", role=Role.WRB, rects=(rect(-m, S.height, 10 + lap, S.height + m),)),
        Layer(name="WRB, right", role=Role.WRB, rects=(rect(10, S.height, S.width + m, S.height + m),)),
    ]
    lower = [replace(sheet, tucks=(Tuck("sill strip"),)) for sheet in sheets]
    return [*without(method_b(S), "WRB"), *lower, courses(S)[1]]


def three_courses(*laps: int) -> list[Layer]:
    """Method B with the WRB in three courses, as a roll of 36 in gives beside an opening of 54 in."""
    m, low = S.margin, S.height
    beside = ((-m, 0), (S.width, S.width + m))
    middle = [rect(left, 20, right, low + laps[0]) for left, right in beside]
    upper = [rect(left, -m, right, 20 + laps[1]) for left, right in beside]
    return [
        *without(method_b(S), "WRB, course 2"),
        Layer(name="WRB, course 2", role=Role.WRB, rects=tuple(middle)),
        Layer(name="WRB, course 3", role=Role.WRB, rects=(*upper, rect(0, -m, S.width, 0))),
    ]


def in_two(layers: list[Layer], name: str, lap: int = 0) -> list[Layer]:
    """Return the layers with one of them in two pieces that lap in the middle."""
    (whole,) = (layer for layer in layers if layer.name == name)
    left, top, right, bottom = whole.rects[0]
    pieces = (rect(left, top, 18 + lap, bottom), rect(18, top, right, bottom))
    place = layers.index(whole)
    halves = [replace(whole, name=f"{name} {number}", rects=(piece,)) for number, piece in enumerate(pieces)]
    return [*layers[:place], *halves, *layers[place + 1 :]]


PASSES: dict[str, Callable[[], Wall]] = {
    **{f"method {name}": (lambda make=make: wall(S, make(S))) for name, make in METHODS.items()},
    "A, one wrap cut at the sill": lambda: wall(S, with_wrap(method_a(S), wrap_last(S))),
    "B, one wrap cut at the sill": lambda: wall(S, with_wrap(method_b(S), wrap_last(S))),
    "an upright lap of 6 in": lambda: wall(S, upright_joint("6")),
    "an upright lap of 6 in below the sill": lambda: wall(S, upright_joint_below(6)),
    **{
        # past the next stud, as AAMA 2400-10 note 3 lets head and sill strips go
        f"{name}: head and sill strip 8 in longer": (
            lambda make=make: wall(
                S, narrower(narrower(make(S), "head strip", left=-8, right=-8), "sill strip", left=-8, right=-8)
            )
        )
        for name, make in (("A", method_a), ("B", method_b))
    },
    "three courses": lambda: wall(S, three_courses(2, 2)),
    "a head strip in two pieces that lap 4 in": lambda: wall(S, in_two(method_b(S), "head strip", 4)),
    "two units side by side": lambda: wall(S, in_two(method_b(S), "unit")),
    "a sill bead with gaps": lambda: wall(S, changed(method_b(S), "unit", **GAPS)),
    "a slit over a corner piece": lambda: wall(S, method_b(S), is_slit_through_base=True),
    "casing: membrane alone": lambda: wall(C, casing(C, membrane(C))),
    "casing: cap, membrane over its leg": lambda: wall(C, casing(C, cap(C), membrane(C, onto_cap=True))),
    "casing: cap, head strip over its leg": lambda: wall(C, casing(C, cap(C), head(C))),
    "casing: membrane, cap, second strip": lambda: wall(C, casing(C, membrane(C), cap(C), second(C))),
    "casing: membrane, cap in sealant": lambda: wall(C, casing(C, membrane(C), cap(C, bedded=True))),
    "casing: membrane and head strip": lambda: wall(C, casing(C, membrane(C), head(C))),
    "casing: cap, membrane, head strip": lambda: wall(C, casing(C, cap(C), membrane(C, onto_cap=True), head(C))),
    "casing: membrane, cap, second strip, head strip": lambda: wall(
        C, casing(C, membrane(C), cap(C), second(C), head(C))
    ),
    "jamb strips before the pan": lambda: wall(S, moved(method_b(S), "jamb strip", before="pan")),
}


@pytest.mark.parametrize("name", PASSES)
def test_what_sheds_water_passes(name: str) -> None:
    verdict = water_path(PASSES[name]())
    assert (verdict.passes, verdict.leaks, names_of(verdict)) == (True, False, set())


def test_a_full_bead_without_a_pan_passes_with_a_note() -> None:
    verdict = water_path(wall(S, without(changed(method_b(S), "unit", **FULL), "pan"), has_pan=False))
    assert (names_of(verdict), notes_of(verdict)) == (set(), {"no-pan"})


def on_paper(*last: Layer) -> list[Layer]:
    """A casing unit in a wall wrapped before, without a flap, and what is laid last on the wrap at its head."""
    return [wrap_first(C), sill(C), pan(C), *jambs(C, sides=BONDED), unit(C), *last]


@pytest.mark.parametrize(
    "last",
    [
        pytest.param(lambda: [membrane(C), cap(C, bedded=True)], id="bedded cap last"),
        pytest.param(lambda: [membrane(C), cap(C), second(C)], id="second strip last"),
        pytest.param(lambda: [membrane(C)], id="bonded membrane"),
        pytest.param(lambda: [replace(head(C), top=BONDED, sides=BONDED)], id="bonded head strip"),
    ],
)
def test_what_only_a_bond_keeps_closed_on_the_wrb_is_noted(last: Callable[[], list[Layer]]) -> None:
    """The jamb tops beside a membrane lie on the wrap too; they are bonded here, so that the head alone is judged."""
    layers = [replace(one, top=BONDED) if one.role is Role.JAMB_STRIP else one for one in on_paper(*last())]
    verdict = water_path(wall(C, layers))
    assert (names_of(verdict), notes_of(verdict)) == (set(), {"only-the-bond"})


def bare_b(name: str) -> list[Layer]:
    return without(method_b(S), name)


def narrower(layers: list[Layer], name: str, *, left: int = 0, right: int = 0, bottom: int = 0) -> list[Layer]:
    """Return the layers with one of them shorter at a side."""
    by = [Decimal(left), Decimal(0), -Decimal(right), -Decimal(bottom)]

    def cut(layer: Layer) -> Layer:
        (first, *rest) = layer.rects
        return replace(layer, rects=(type(first)(*(at + less for at, less in zip(first, by, strict=True))), *rest))

    return [cut(layer) if layer.name.endswith(name) else layer for layer in layers]


FAILS: dict[str, tuple[str, Callable[[], Wall]]] = {
    **{
        f"{name}: head strip before the jamb strips": (
            "head-before-jambs",
            lambda make=make: wall(S, moved(make(S), "head strip", before="left jamb strip")),
        )
        for name, make in METHODS.items()
    },
    **{
        f"{name}: sill strip after the jamb strips": (
            "jambs-before-sill",
            lambda make=make: wall(S, moved(make(S), "jamb strip", before="sill strip")),
        )
        for name, make in METHODS.items()
    },
    **{
        f"{name}: pan before the sill strip": (
            "pan-before-sill",
            lambda make=make: wall(S, moved(make(S), "pan", before="sill strip")),
        )
        for name, make in METHODS.items()
    },
    **{
        f"{name}: pan after the unit": (
            "pan-after-unit",
            lambda make=make: wall(S, moved(make(S), "pan", before="head strip")),
        )
        for name, make in METHODS.items()
    },
    "B: WRB over the sill strip": (
        "wrb-over-sill",
        lambda: wall(S, [*without(method_b(S), "WRB"), *courses(S, behind="")]),
    ),
    "A: WRB over the sill strip": (
        "wrb-over-sill",
        lambda: wall(S, [*without(method_a(S), "WRB"), *courses(S, behind="")]),
    ),
    "B: WRB between the sill strip and a jamb's tail": (
        "wrb-over-sill",
        lambda: wall(
            S,
            [
                *without(method_b(S), "WRB"),
                replace(courses(S)[0], tucks=(Tuck("left jamb strip"), Tuck("right jamb strip"))),
                courses(S)[1],
            ],
        ),
    ),
    "B: one wrap over the sill strip": (
        "wrb-over-sill",
        lambda: wall(S, with_wrap(method_b(S), wrap_last(S, behind=()))),
    ),
    "B: one wrap not cut at the sill": (
        "over-and-behind",
        lambda: wall(S, with_wrap(method_b(S), wrap_last(S, cut=False))),
    ),
    "B: WRB behind the jambs and over the head strip, uncut": (
        "over-and-behind",
        lambda: wall(
            S,
            with_wrap(
                method_b(S),
                wrap_last(S, cut=False, behind=(Tuck("left jamb strip"), Tuck("right jamb strip"), Tuck("sill strip"))),
            ),
        ),
    ),
    "B1: no head flap": ("wrb-under-head", lambda: wall(S, wrap_under(method_b1(S)))),
    "A1: no head flap": ("wrb-under-head", lambda: wall(S, wrap_under(method_a1(S)))),
    "B1: cuts of 6 in for a strip of 12 in": (
        "flap-cut-short",
        lambda: wall(S, wrap_under(method_b1(S), head_flap=flap(S, Decimal("4.25")))),
    ),
    "B1: cuts not taped": (
        "flap-untaped",
        lambda: wall(S, wrap_under(method_b1(S), head_flap=flap(S, S.strip, taped=False))),
    ),
    "B1: a head strip that reaches past the flap": (
        "flap-corner",
        lambda: wall(S, narrower(method_b1(S), "head strip", left=-4, right=-4)),
    ),
    "B1: flap closed before the head strip": (
        "wrb-under-head",
        lambda: wall(S, wrap_under(method_b1(S), head_flap=flap(S, S.strip, closed_after="unit"))),
    ),
    "casing: cap last, not bedded": ("cap-leg-uncovered", lambda: wall(C, casing(C, membrane(C), cap(C)))),
    "casing: cap alone": ("cap-leg-uncovered", lambda: wall(C, casing(C, cap(C)))),
    "casing: cap over the membrane, only the head strip over its leg": (
        "cap-leg-uncovered",
        lambda: wall(C, casing(C, membrane(C), cap(C), head(C))),
    ),
    "membrane on paper with an open top": ("top-not-bonded", lambda: wall(C, on_paper(membrane(C, top=FREE)))),
    "second strip on paper with an open top": (
        "top-not-bonded",
        lambda: wall(C, on_paper(membrane(C), cap(C), second(C, top=FREE))),
    ),
    "B: pan without front lap": (
        "pan-no-front-lap",
        lambda: wall(S, without(method_b(S), "pan"), front_lap_in=Decimal(0)),
    ),
    "B: pan turned up 2 in": (
        "pan-low-turn-up",
        lambda: wall(S, method_b(S), turn_up_in=Decimal(2), length_in=Decimal(40)),
    ),
    "B: pan too short": ("pan-short", lambda: wall(S, method_b(S), length_in=Decimal(42))),
    "B: pan without dam or slope": ("pan-level", lambda: wall(S, method_b(S), back_dam_in=Decimal(0))),
    "B: pan slit through the base": (
        "pan-slit",
        lambda: wall(S, method_b(S), is_slit_through_base=True, has_corner_pieces=False),
    ),
    "B: pan fastened through the base": ("pan-fastened", lambda: wall(S, method_b(S), is_fastened_through_base=True)),
    "B: full sill bead with a pan": ("sill-dammed", lambda: wall(S, changed(method_b(S), "unit", **FULL))),
    "B1: full sill bead with a pan": ("sill-dammed", lambda: wall(S, changed(method_b1(S), "unit", **FULL))),
    "B: course 2 before course 1": (
        "courses-reversed",
        lambda: wall(S, moved(method_b(S), "course 2", before="course 1")),
    ),
    "B: course lap 1 in": (
        "courses-lap",
        lambda: wall(S, [*without(method_b(S), "WRB"), *courses(S, lap=Decimal(1))]),
    ),
    "B1: an upright lap of 4 in": ("courses-side-lap", lambda: wall(S, upright_joint("4"))),
    "B: an upright lap of 5 in below the sill": ("courses-side-lap", lambda: wall(S, upright_joint_below(5))),
    "B: sheets that only meet below the sill": ("courses-side-lap", lambda: wall(S, upright_joint_below(0))),
    "B: three courses, the upper lap 1 in": ("courses-lap", lambda: wall(S, three_courses(2, 1))),
    "B: courses that only meet": ("courses-lap", lambda: wall(S, three_courses(2, 0))),
    "B: a head strip in two pieces that only meet": (
        "open-side",
        lambda: wall(S, in_two(method_b(S), "head strip")),
    ),
    "B: pan that laps down short of one corner": (
        "pan-no-front-lap",
        lambda: wall(S, narrower(method_b(S), "pan", right=3)),
    ),
    "B: no bead at the jamb": ("no-jamb-bead", lambda: wall(S, changed(method_b(S), "unit", sides=FREE))),
    "A: no bead at the jamb": ("no-jamb-bead", lambda: wall(S, changed(method_a(S), "unit", sides=FREE))),
    "B: no bead at the head": ("no-head-bead", lambda: wall(S, changed(method_b(S), "unit", top=FREE))),
    "A: jamb strips not bedded on the flange": (
        "jamb-not-bedded",
        lambda: wall(S, [sill(S), pan(S), unit(S), *jambs(S, sides=FREE), head(S), *courses(S)]),
    ),
    "B: unit after the head strip": (
        "unit-over-head",
        lambda: wall(S, moved(method_b(S), "head strip", before="unit")),
    ),
    "B1: unit after the head strip": (
        "unit-over-head",
        lambda: wall(S, moved(method_b1(S), "head strip", before="unit")),
    ),
    "B: no head strip": ("no-head-flashing", lambda: wall(S, bare_b("head"))),
    "B: short head strip": ("head-short", lambda: wall(S, narrower(method_b(S), "head strip", left=6, right=6))),
    "B1: short head strip": ("head-short", lambda: wall(S, narrower(method_b1(S), "head strip", left=6, right=6))),
    "B: jamb strips short": ("jamb-short", lambda: wall(S, narrower(method_b(S), "jamb strip", bottom=12))),
    "B: jamb strips missing": ("no-jamb-strip", lambda: wall(S, without(method_b(S), "left jamb", "right jamb"))),
    "B: no sill strip": (
        "no-sill-strip",
        lambda: wall(S, [*without(method_b(S), "sill", "WRB"), *courses(S, behind="")]),
    ),
    "B: head strip's bottom sealed": (
        "head-sealed",
        lambda: wall(S, changed(method_b(S), "head strip", bottom=BONDED)),
    ),
    "B: sill strip fastened below": ("tuck-closed", lambda: wall(S, changed(method_b(S), "sill strip", bottom=BONDED))),
    "B: no WRB": ("no-wrb", lambda: wall(S, without(method_b(S), "WRB"))),
    "B: no unit": ("no-unit", lambda: wall(S, without(method_b(S), "unit"))),
}


@pytest.mark.parametrize("name", FAILS)
def test_what_does_not_is_named(name: str) -> None:
    expected, make = FAILS[name]
    verdict = water_path(make())
    assert not verdict.passes
    assert expected in names_of(verdict)


@pytest.mark.parametrize("name", FAILS)
def test_every_fault_says_what_is_wrong_where_and_what_would_mend_it(name: str) -> None:
    for fault in water_path(FAILS[name][1]()).faults:
        assert fault.what.endswith(".")
        assert fault.mend.endswith(".")
        assert fault.source


def test_of_all_orders_only_the_right_ones_pass() -> None:
    """Sill, jambs, head from the bottom up, the pan over the sill strip and under the unit, the unit before (A) or
    after (B) the jamb strips and always under the head strip (AWDI manual p. 23; AAMA 2400-10): two orders of B, since
    water alone lets the jamb strips go before the pan, and one of A; each with the WRB last, or first with its head
    flap closed last."""
    passed = {order for order in permutations(("sill", "pan", "jambs", "unit", "head", "wrb")) if _sheds(order)}
    right = [
        ("sill", "pan", "jambs", "unit", "head"),
        ("sill", "jambs", "pan", "unit", "head"),
        ("sill", "pan", "unit", "jambs", "head"),
    ]
    assert passed == {(*order, "wrb") for order in right} | {("wrb", *order) for order in right}


def _sheds(order: tuple[str, ...]) -> bool:
    over_flange = order.index("jambs") > order.index("unit")
    pieces: dict[str, list[Layer]] = {
        "sill": [sill(S)],
        "pan": [pan(S)],
        "jambs": list(jambs(S, sides=BONDED if over_flange else FREE)),
        "unit": [unit(S)],
        "head": [head(S)],
        "wrb": [wrap_first(S, head_flap=flap(S, S.strip))] if order[0] == "wrb" else list(courses(S)),
    }
    return water_path(wall(S, [layer for name in order for layer in pieces[name]])).passes
