"""Walls as they are laid by hand, layer by layer, not from any detail: what the engine is held against."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from openings.calc.extents import Rect
from openings.calc.water.layers import Edge, Flap, Layer, Pan, Role, Tuck, Wall

BONDED, FASTENED, FREE = Edge.BONDED, Edge.FASTENED, Edge.FREE


def inches(*values: float | str | Decimal) -> tuple[Decimal, ...]:
    return tuple(Decimal(str(value)) for value in values)


def rect(*values: float | str | Decimal) -> Rect:
    left, top, right, bottom = inches(*values)
    return Rect(left, top, right, bottom)


@dataclass(frozen=True)
class Sizes:
    """What the pieces of a wall are cut to; inches."""

    width: Decimal = Decimal(36)
    height: Decimal = Decimal(54)
    strip: Decimal = Decimal(12)
    short: Decimal = Decimal("0.5")
    gap: Decimal = Decimal("0.25")
    flange: Decimal = Decimal("1.375")
    casing: Decimal = Decimal(0)
    front_lap: Decimal = Decimal(2)
    turn_up: Decimal = Decimal(6)

    @property
    def margin(self) -> Decimal:
        return self.strip + 10

    @property
    def left(self) -> Decimal:
        """Where flange or casing begins."""
        return self.gap - (self.casing or self.flange)

    @property
    def right(self) -> Decimal:
        return self.width - self.left

    @property
    def head(self) -> Decimal:
        """Where flange or casing ends above."""
        return self.left

    @property
    def inner(self) -> tuple[Decimal, Decimal, Decimal]:
        """Left, top and right of what the WRB is cut around when it comes last."""
        if self.casing:
            return self.left, self.head, self.right
        return Decimal(0), Decimal(0), self.width


def sill(s: Sizes) -> Layer:
    return Layer(
        name="sill strip",
        role=Role.SILL_STRIP,
        rects=(rect(-s.strip, s.height, s.width + s.strip, s.height + s.strip),),
        top=FASTENED,
    )


def pan(s: Sizes) -> Layer:
    return Layer(
        name="pan",
        role=Role.PAN,
        rects=(rect(0, s.height, s.width, s.height + s.front_lap),),
        sides=BONDED,
    )


def jambs(s: Sizes, *, sides: Edge = FASTENED) -> tuple[Layer, Layer]:
    top, bottom = s.short - s.strip, s.height + s.strip - s.short
    return (
        Layer(
            name="left jamb strip", role=Role.JAMB_STRIP, rects=(rect(-s.strip, top, 0, bottom),),
            top=FASTENED, sides=sides,
        ),
        Layer(
            name="right jamb strip", role=Role.JAMB_STRIP, rects=(rect(s.width, top, s.width + s.strip, bottom),),
            top=FASTENED, sides=sides,
        ),
    )  # fmt: skip


def unit(s: Sizes, **edges: object) -> Layer:
    bottom = s.height + Decimal("0.5") if s.casing else s.height - s.left
    usual: dict[str, object] = {"top": BONDED, "sides": BONDED, "bottom": FREE}
    return Layer(
        name="unit", role=Role.UNIT, rects=(rect(s.left, s.head, s.right, bottom),), **{**usual, **edges},  # type: ignore[arg-type]
    )  # fmt: skip


def head(s: Sizes) -> Layer:
    bottom = s.head if s.casing else Decimal(0)
    bottom += Decimal("0.5") if s.casing else 0
    return Layer(
        name="head strip", role=Role.HEAD_STRIP,
        rects=(rect(-s.strip, bottom - s.strip, s.width + s.strip, bottom),), top=FASTENED,
    )  # fmt: skip


def membrane(s: Sizes, *, onto_cap: bool = False, **edges: object) -> Layer:
    bottom = s.head if onto_cap else s.head + Decimal("0.5")
    usual: dict[str, object] = {"top": BONDED, "sides": BONDED}
    return Layer(
        name="head membrane", role=Role.MEMBRANE, rects=(rect(s.left - 6, bottom - 9, s.right + 6, bottom),),
        **{**usual, **edges},  # type: ignore[arg-type]
    )  # fmt: skip


def cap(s: Sizes, *, bedded: bool = False) -> Layer:
    edge = BONDED if bedded else FREE
    half = Decimal("0.5")
    return Layer(
        name="drip cap", role=Role.CAP,
        rects=(rect(s.left - half, s.head - Decimal("1.5"), s.right + half, s.head + half),), top=edge, sides=edge,
    )  # fmt: skip


def second(s: Sizes, **edges: object) -> Layer:
    usual: dict[str, object] = {"top": BONDED, "sides": BONDED}
    return Layer(
        name="second strip", role=Role.SECOND_STRIP, rects=(rect(s.left - 6, s.head - 12, s.right + 6, s.head),),
        **{**usual, **edges},  # type: ignore[arg-type]
    )  # fmt: skip


def courses(s: Sizes, *, lap: Decimal = Decimal(2), behind: str = "sill strip") -> tuple[Layer, Layer]:
    """Two courses laid last: the lower one behind the sill strip, the upper one over jambs and head."""
    left, top, right = s.inner
    m = s.margin
    lower = Layer(
        name="WRB, course 1", role=Role.WRB, rects=(rect(-m, s.height, s.width + m, s.height + m),),
        tucks=(Tuck(behind),) if behind else (),
    )  # fmt: skip
    upper = Layer(
        name="WRB, course 2", role=Role.WRB,
        rects=(
            rect(-m, -m, left, s.height + lap), rect(left, -m, right, top), rect(right, -m, s.width + m, s.height + lap)
        ),
    )  # fmt: skip
    return lower, upper


def wrap_last(s: Sizes, *, cut: bool = True, behind: tuple[Tuck, ...] | None = None) -> Layer:
    """One sheet laid last, cut level with the sill and put behind the sill strip."""
    left, top, right = s.inner
    m = s.margin
    cuts = (rect(-m, s.height, 0, s.height), rect(s.width, s.height, s.width + m, s.height)) if cut else ()
    return Layer(
        name="WRB", role=Role.WRB,
        rects=(
            rect(-m, -m, left, s.height), rect(left, -m, right, top), rect(right, -m, s.width + m, s.height),
            rect(-m, s.height, s.width + m, s.height + m),
        ),
        tucks=(Tuck("sill strip", rect(-m, s.height, s.width + m, s.height + m)),) if behind is None else behind,
        cuts=cuts,
    )  # fmt: skip


def flap(s: Sizes, height: Decimal, *, taped: bool = True, closed_after: str = "") -> Flap:
    steps = 12
    rects = []
    for number in range(steps):
        low, high = height * number / steps, height * (number + 1) / steps
        rects.append(rect(-high, -high, s.width + high, -low))
    return Flap(rects=tuple(rects), is_taped=taped, closed_after=closed_after)


def wrap_first(s: Sizes, *, head_flap: Flap | None = None) -> Layer:
    """One sheet laid first, cut out at the rough opening; by its flap over what is laid at the head."""
    m = s.margin
    return Layer(
        name="WRB", role=Role.WRB,
        rects=(
            rect(-m, -m, 0, s.height + m), rect(0, -m, s.width, 0), rect(s.width, -m, s.width + m, s.height + m),
            rect(0, s.height, s.width, s.height + m),
        ),
        flap=head_flap,
    )  # fmt: skip


def pan_of(s: Sizes, **answers: object) -> Pan:
    usual: dict[str, object] = {
        "turn_up_in": s.turn_up, "length_in": s.width + 2 * s.turn_up, "back_dam_in": Decimal("0.5"),
        "slope_deg": Decimal(0), "front_lap_in": s.front_lap, "has_corner_pieces": True,
    }  # fmt: skip
    return Pan(**{**usual, **answers})  # type: ignore[arg-type]


def wall(s: Sizes, layers: Iterable[Layer], *, has_pan: bool = True, **answers: object) -> Wall:
    return Wall(
        width_in=s.width, height_in=s.height, layers=tuple(layers), pan=pan_of(s, **answers) if has_pan else None
    )


def method_a(s: Sizes) -> list[Layer]:
    return [sill(s), pan(s), unit(s), *jambs(s, sides=BONDED), head(s), *courses(s)]


def method_b(s: Sizes) -> list[Layer]:
    return [sill(s), pan(s), *jambs(s), unit(s), head(s), *courses(s)]


def method_a1(s: Sizes) -> list[Layer]:
    return [wrap_first(s, head_flap=flap(s, s.strip)), sill(s), pan(s), unit(s), *jambs(s, sides=BONDED), head(s)]


def method_b1(s: Sizes) -> list[Layer]:
    return [wrap_first(s, head_flap=flap(s, s.strip)), sill(s), pan(s), *jambs(s), unit(s), head(s)]


METHODS: dict[str, Callable[[Sizes], list[Layer]]] = {
    "A": method_a, "A1": method_a1, "B": method_b, "B1": method_b1,
}  # fmt: skip

CASING = Sizes(casing=Decimal(2))


def casing(s: Sizes, *at_the_head: Layer) -> list[Layer]:
    """A unit with casing, the paper after it, and what is laid at its head."""
    return [sill(s), pan(s), *jambs(s), unit(s), *at_the_head, *courses(s)]


def without(layers: list[Layer], *names: str) -> list[Layer]:
    return [layer for layer in layers if not layer.name.startswith(names)]


def moved(layers: list[Layer], name: str, *, before: str) -> list[Layer]:
    """Return the layers with those of one name laid before another."""
    taken = [layer for layer in layers if layer.name.endswith(name)]
    left = [layer for layer in layers if layer not in taken]
    place = next(at for at, layer in enumerate(left) if layer.name.endswith(before))
    return [*left[:place], *taken, *left[place:]]


def changed(layers: list[Layer], name: str, **values: object) -> list[Layer]:
    return [replace(layer, **values) if layer.name.endswith(name) else layer for layer in layers]  # type: ignore[arg-type]
