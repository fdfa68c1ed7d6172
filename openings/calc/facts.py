"""The plain values that every computation on an opening starts from."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from openings.errors import BadDetail, BadLength

MAX_SIDE_IN = Decimal(480)
"""40 ft: a longer side is a slip of the pen or of the unit (our choice)."""


class Mounting(StrEnum):
    """How the unit is held to the wall."""

    FLANGE = "flange"
    CASING = "casing"
    BOX_FRAME = "box frame"


class HeadFlashing(StrEnum):
    """Whether there is a metal head flashing (drip cap), and when it goes on."""

    NONE = "none"
    BEFORE_MEMBRANE = "before membrane"
    AFTER_MEMBRANE = "after membrane"


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningFacts:
    """One opening and the unit that goes into it; inches, width before height, seen from outside.

    Raises:
        BadLength: a side is not above 0 and at most 40 ft, the unit is larger than the rough
            opening, or a given weight is not above 0.
    """

    ro_width_in: Decimal
    ro_height_in: Decimal
    unit_width_in: Decimal
    unit_height_in: Decimal
    operation: str = ""
    weight_lb: Decimal | None = None

    def __post_init__(self) -> None:
        for name in ("ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in"):
            side = getattr(self, name)
            if not 0 < side <= MAX_SIDE_IN:
                raise BadLength(f"{name} is {side} in; it must be above 0 and at most {MAX_SIDE_IN} in (40 ft)")
        if self.unit_width_in > self.ro_width_in or self.unit_height_in > self.ro_height_in:
            raise BadLength(
                f"the unit ({self.unit_width_in} × {self.unit_height_in} in) is larger than its rough opening "
                f"({self.ro_width_in} × {self.ro_height_in} in)"
            )
        if self.weight_lb is not None and self.weight_lb <= 0:
            raise BadLength(f"weight_lb is {self.weight_lb}; a unit weighs more than 0 lb")


@dataclass(frozen=True, slots=True, kw_only=True)
class DetailFacts:
    """One installation detail: the answers from which steps, draw and labor follow.

    Lengths in inches. What manufacturers disagree on is a field here, with a default, and never a
    constant of a computation. Defaults and where they come from:

        strip_width_in: 12 preferred, 9 acceptable, 6 refused (common practice, no source;
            9 in minimum also AWDI installation manual p. 23).
        pan_turn_up_in: 6 up each trimmer (common practice, no source).
        joint_bead_in 1/4, setting_bead_in 1/2: common practice, no source.
        flange_bead_in 3/8: AAMA 2400-10 cl. 5.7.3.4 asks for a continuous bead; 3/8 from memory.
        sealant_waste_pct 10: no standard value found.
        strap_corner_in 8: first strap 8 to 24 in from the corner, AWDI manual p. 89.
        strap_spacing_in 16: common practice, no source.
        flange_fastener_*: 16 in apart, 4 in from the corner, from memory.
        sill_shim_spacing_in 16, jamb_shim_spacing_in 24, shim_end_in 1/2: JELD-WEN JII-90025 and trade pages.
        head_membrane_lap_in 6: past the unit at each side; common practice, no source.

    Raises:
        BadDetail: the answers contradict one another; the sentence says which and why.
    """

    mounting: Mounting
    barrier_before_window: bool
    jamb_flashing_over_flange: bool
    strip_width_in: Decimal = Decimal(12)
    has_pan: bool = True
    pan_turn_up_in: Decimal = Decimal(6)
    has_corner_pieces: bool = True
    has_head_membrane: bool = True
    head_membrane_lap_in: Decimal = Decimal(6)
    head_flashing: HeadFlashing = HeadFlashing.NONE
    casing_width_in: Decimal = Decimal(0)
    joint_bead_in: Decimal = Decimal("0.25")
    setting_bead_in: Decimal = Decimal("0.5")
    flange_bead_in: Decimal = Decimal("0.375")
    has_air_seal: bool = True
    sealant_waste_pct: Decimal = Decimal(10)
    has_straps: bool = False
    strap_spacing_in: Decimal = Decimal(16)
    strap_corner_in: Decimal = Decimal(8)
    jamb_screws_per_strap: int = 2
    framing_screws_per_strap: int = 2
    flange_fastener_spacing_in: Decimal = Decimal(16)
    flange_fastener_corner_in: Decimal = Decimal(4)
    sill_shim_spacing_in: Decimal = Decimal(16)
    jamb_shim_spacing_in: Decimal = Decimal(24)
    shim_end_in: Decimal = Decimal("0.5")
    ro_clearance_width_in: Decimal = Decimal("0.5")
    ro_clearance_height_in: Decimal = Decimal("0.5")

    def __post_init__(self) -> None:
        if self.strip_width_in < 9:
            raise BadDetail(
                f"strip_width_in is {self.strip_width_in}; flashing strips are 12 in wide, at least 9 in, "
                "so that paper and strip still lap"
            )
        if self.mounting is not Mounting.FLANGE and self.jamb_flashing_over_flange:
            raise BadDetail(
                f"jamb_flashing_over_flange is set, but a {self.mounting} unit has no flange to lay it over"
            )
        if self.mounting is Mounting.CASING and self.casing_width_in <= 0:
            raise BadDetail("casing_width_in must be above 0 for a unit mounted by its casing")
        positive = (
            "strip_width_in", "strap_spacing_in", "flange_fastener_spacing_in",
            "sill_shim_spacing_in", "jamb_shim_spacing_in",
        )  # fmt: skip
        for name in positive:
            if getattr(self, name) <= 0:
                raise BadDetail(f"{name} is {getattr(self, name)}; it must be above 0")
        not_negative = (
            "pan_turn_up_in", "head_membrane_lap_in", "casing_width_in", "joint_bead_in", "setting_bead_in",
            "flange_bead_in", "sealant_waste_pct", "strap_corner_in", "flange_fastener_corner_in", "shim_end_in",
            "ro_clearance_width_in", "ro_clearance_height_in",
        )  # fmt: skip
        for name in not_negative:
            if getattr(self, name) < 0:
                raise BadDetail(f"{name} is {getattr(self, name)}; it must not be negative")

    @property
    def method(self) -> str:
        """A, A1, B or B1: flashing over the flange or behind it, barrier after the window or before."""
        return ("A" if self.jamb_flashing_over_flange else "B") + ("1" if self.barrier_before_window else "")
