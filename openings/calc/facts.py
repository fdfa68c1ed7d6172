"""The plain values that every computation on an opening starts from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from decimal import Decimal

from jobs.calc.say import field_name
from jobs.errors import Fault
from openings.calc.figures import plain
from openings.calc.staged import NOTHING_STAGED, Staged
from openings.calc.step_code import StepCode
from openings.calc.terms import BeadShape, FrameMaterial, HeadFlashing, Mounting, SillBead
from openings.calc.units import US
from openings.errors import BadDetail, BadLength

MAX_SIDE_IN = Decimal(480)
"""40 ft: a longer side is a slip of the pen or of the unit (our choice)."""

MAX_DESIGN_PRESSURE_PSF, MAX_STOREYS_UP, MAX_LITES = 1000, 100, 4
"""More is a slip of the pen (our choice)."""

MAX_LITE_IN = Decimal(3)
"""Thicker glass is a slip of the unit (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningFacts:
    """One opening and the unit that goes into it; inches, width before height, seen from outside.

    What nobody said of the unit is None or empty, and every figure that had to do without says so: weight, frame
    and glass are then estimated, and anchors are not counted by load.

    Args:
        lites_in: nominal thickness of each lite of glass, outside first.
        design_pressure_psf: what the unit is rated for, inward and outward alike.
        sill_above_floor_in: rough sill above what the people stand on; without it a lift is judged by weight alone.
        drawn_ro_in: width and height of the rough opening on paper, where its sides here are those it was built with.

    Raises:
        BadLength: a side is not above 0 and at most 40 ft, the unit is larger than the rough
            opening, a given weight, lite or pressure is not above 0, or the sill lies below the floor.
    """

    ro_width_in: Decimal
    ro_height_in: Decimal
    unit_width_in: Decimal
    unit_height_in: Decimal
    operation: str = ""
    weight_lb: Decimal | None = None
    frame_material: FrameMaterial | None = None
    lites_in: tuple[Decimal, ...] = ()
    design_pressure_psf: Decimal | None = None
    sill_above_floor_in: Decimal | None = None
    drawn_ro_in: tuple[Decimal, Decimal] | None = None

    def __post_init__(self) -> None:
        for name in ("ro_width_in", "ro_height_in", "unit_width_in", "unit_height_in"):
            side = getattr(self, name)
            if not 0 < side <= MAX_SIDE_IN:
                raise _bad_length(
                    name,
                    side,
                    f"the {field_name(name)} is {US.say(side)}; it must be above 0 and at most {US.say(MAX_SIDE_IN)}",
                )
        if self.unit_width_in > self.ro_width_in or self.unit_height_in > self.ro_height_in:
            name = "unit_width_in" if self.unit_width_in > self.ro_width_in else "unit_height_in"
            raise _bad_length(
                name,
                getattr(self, name),
                f"the unit ({US.say(self.unit_width_in)} × {US.say(self.unit_height_in)}) is larger than its rough "
                f"opening{' as built' if self.drawn_ro_in else ''} ({US.say(self.ro_width_in)} × "
                f"{US.say(self.ro_height_in)})",
            )
        if self.weight_lb is not None and self.weight_lb <= 0:
            raise _bad_length(
                "weight_lb",
                self.weight_lb,
                f"the weight is {US.say(self.weight_lb, 'lb')}; a unit weighs more than 0 lb",
            )
        if any(not 0 < lite <= MAX_LITE_IN for lite in self.lites_in):
            shown, lites = " + ".join(map(str, self.lites_in)), " + ".join(map(US.say, self.lites_in))
            raise _bad_length(
                "lites_in", shown, f"the glass is {lites}; a lite is thicker than 0 and at most {US.say(MAX_LITE_IN)}"
            )
        if self.design_pressure_psf is not None and self.design_pressure_psf <= 0:
            pressure = self.design_pressure_psf
            raise _bad_length(
                "design_pressure_psf",
                pressure,
                f"the design pressure is {US.say(pressure, 'psf')}; a rated unit has more than 0",
            )
        if self.sill_above_floor_in is not None and self.sill_above_floor_in < 0:
            sill = self.sill_above_floor_in
            raise _bad_length(
                "sill_above_floor_in", sill, f"the sill is {US.say(sill)} above the floor; no sill is below its floor"
            )


def _bad_length(field: str, value: object, detail: str) -> BadLength:
    return BadLength(detail, faults=[Fault(field=field, value=str(value), detail=detail)])


@dataclass(frozen=True, slots=True, kw_only=True)
class DetailFacts:
    """One installation detail: the answers from which steps, draw and labor follow.

    Lengths in inches. What manufacturers disagree on is a field here, with a default, and never a
    constant of a computation. Defaults and where they come from:

        strip_width_in: 12 preferred, 9 acceptable, 6 refused (common practice, no source;
            9 in minimum also AWDI installation manual p. 23).
        jamb_strip_short_in 1/2: AAMA 2400, from memory.
        end_lap_in 4: laps of 2 to 4 in where a run is longer than a roll, from memory.
        pan_turn_up_in: 6 up each trimmer (common practice, no source).
        pan_front_lap_in 2: laps of 2 to 4 in, from memory; a pan laps over the drainage plane below it (Building
            Science Corp. Info-302).
        back_dam_in 1/2: makers' notes, from memory. A pan has a back dam or slopes out (Building Science
            Corp. Info-302).
        water_test_pct 15: of the design pressure; 20 for class AW (constructionspecifier.com).
        joint_bead_in 1/4, setting_bead_in 1/2: common practice, no source.
        flange_bead_in 3/8: AAMA 2400-10 cl. 5.7.3.4 asks for a continuous bead; 3/8 from memory.
        sill_bead: open to drain (Building Science Corp. Info-302); the gaps of 1/2 in at both ends are of
            Pella 80WW0101. A full bead along a sill with a pan is refused.
        sealant_waste_pct 10: no standard value found.
        joint_temp_range_f 130: from memory.
        strap_corner_in 8: first strap 8 to 24 in from the corner, AWDI manual p. 89.
        strap_spacing_in 16: common practice, no source.
        strap_allowable_lb 138.88889: worked back from the clip formula of AWDI manual p. 89, the two long sides
            carrying the load.
        fastener_allowable_lb: of the product approval; None works it out from the withdrawal of the fastener.
        strap_allowable_lb, fastener_*: assumed as long as `staged`, what the chosen products say, says nothing.
        framing_specific_gravity 0.42: spruce-pine-fir, from memory. fastener_diameter_in 0.164 (No. 8) and
            fastener_penetration_in 1: our choice. load_duration_factor 1.6, wind: from memory.
        flange_fastener_*: 16 in apart, 4 in from the corner, from memory.
        sill_shim_spacing_in 16, jamb_shim_spacing_in 24, shim_end_in 1/2: JELD-WEN JII-90025 and trade pages.
        has_shims_at_straps: from memory; lock_hinge_shim_points: what the maker asks for, 0 until somebody says.
        head_membrane_lap_in 6: past the unit at each side; common practice, no source.
        head_membrane_width_in 6: rolls are 4, 6 and 9 in wide (dwmmag.com, AAMA analysis of September 2019), of which
            our choice.
        has_head_strip: a strip of flashing above everything at the head.
        own_order: the steps in the order of a firm or a maker; empty, and they follow the usual one. `steps_for`
            refuses one that leaves out a step of the usual order, or has another.
        drip_cap_past_in 1/2: past the trim, says AWDI manual p. 23; how far is our choice.
        ro_clearance_* 1/2, most_clearance_* 1: a rough opening is typically 1/2 to 1 in larger than the frame
            (shop-drawing note, secondary).

    Raises:
        BadDetail: the answers contradict one another; the sentence says which and why, `faults` name the fields.
    """

    mounting: Mounting
    barrier_before_window: bool
    jamb_flashing_over_flange: bool
    strip_width_in: Decimal = Decimal(12)
    jamb_strip_short_in: Decimal = Decimal("0.5")
    end_lap_in: Decimal = Decimal(4)
    has_pan: bool = True
    pan_turn_up_in: Decimal = Decimal(6)
    pan_front_lap_in: Decimal = Decimal(2)
    back_dam_in: Decimal = Decimal("0.5")
    sill_slope_deg: Decimal = Decimal(0)
    sill_depth_in: Decimal = Decimal("5.5")
    water_test_pct: Decimal = Decimal(15)
    has_corner_pieces: bool = True
    has_head_membrane: bool = True
    head_membrane_lap_in: Decimal = Decimal(6)
    head_membrane_width_in: Decimal = Decimal(6)
    has_head_strip: bool = True
    head_flashing: HeadFlashing = HeadFlashing.NONE
    drip_cap_past_in: Decimal = Decimal("0.5")
    casing_width_in: Decimal = Decimal(0)
    joint_bead_in: Decimal = Decimal("0.25")
    joint_bead_shape: BeadShape = BeadShape.ROUND
    setting_bead_in: Decimal = Decimal("0.5")
    setting_bead_shape: BeadShape = BeadShape.ROUND
    flange_bead_in: Decimal = Decimal("0.375")
    flange_bead_shape: BeadShape = BeadShape.ROUND
    sill_bead: SillBead = SillBead.OPEN
    sill_drain_gap_in: Decimal = Decimal("0.5")
    has_air_seal: bool = True
    joint_temp_range_f: Decimal = Decimal(130)
    sealant_waste_pct: Decimal = Decimal(10)
    has_straps: bool = False
    strap_spacing_in: Decimal = Decimal(16)
    strap_corner_in: Decimal = Decimal(8)
    strap_allowable_lb: Decimal = Decimal("138.88889")
    jamb_screws_per_strap: int = 2
    framing_screws_per_strap: int = 2
    fastener_is_nail: bool = False
    fastener_diameter_in: Decimal = Decimal("0.164")
    fastener_penetration_in: Decimal = Decimal(1)
    fastener_allowable_lb: Decimal | None = None
    framing_specific_gravity: Decimal = Decimal("0.42")
    load_duration_factor: Decimal = Decimal("1.6")
    flange_fastener_spacing_in: Decimal = Decimal(16)
    flange_fastener_corner_in: Decimal = Decimal(4)
    sill_shim_spacing_in: Decimal = Decimal(16)
    jamb_shim_spacing_in: Decimal = Decimal(24)
    shim_end_in: Decimal = Decimal("0.5")
    has_shims_at_straps: bool = True
    lock_hinge_shim_points: int = 0
    ro_clearance_width_in: Decimal = Decimal("0.5")
    ro_clearance_height_in: Decimal = Decimal("0.5")
    most_clearance_width_in: Decimal = Decimal(1)
    most_clearance_height_in: Decimal = Decimal(1)
    is_behind_stucco: bool = False
    own_order: tuple[StepCode, ...] = ()
    staged: Staged = NOTHING_STAGED

    def __post_init__(self) -> None:
        if faults := (*_contradictions(self), *_bad_figures(self)):
            raise BadDetail("; ".join(fault.detail for fault in faults), faults=faults)

    @property
    def method(self) -> str:
        """Return A, A1, B or B1: flashing over the flange or behind it, barrier after the window or before."""
        return ("A" if self.jamb_flashing_over_flange else "B") + ("1" if self.barrier_before_window else "")


ANSWERS = tuple(field.name for field in fields(DetailFacts) if field.name != "staged")
"""What somebody answers of a detail; what is staged is told by the floor above."""

_POSITIVE = (
    "strip_width_in", "strap_spacing_in", "flange_fastener_spacing_in", "sill_shim_spacing_in",
    "jamb_shim_spacing_in", "strap_allowable_lb", "fastener_diameter_in", "fastener_penetration_in",
    "framing_specific_gravity", "load_duration_factor", "sill_depth_in", "head_membrane_width_in",
)  # fmt: skip
_NOT_NEGATIVE = (
    "jamb_strip_short_in", "end_lap_in", "pan_turn_up_in", "pan_front_lap_in", "back_dam_in", "sill_slope_deg",
    "water_test_pct", "head_membrane_lap_in", "drip_cap_past_in", "casing_width_in", "joint_bead_in", "setting_bead_in",
    "flange_bead_in", "sill_drain_gap_in", "joint_temp_range_f", "sealant_waste_pct", "strap_corner_in",
    "flange_fastener_corner_in", "shim_end_in", "jamb_screws_per_strap", "framing_screws_per_strap",
    "lock_hinge_shim_points", "ro_clearance_width_in", "ro_clearance_height_in", "most_clearance_width_in",
    "most_clearance_height_in",
)  # fmt: skip

LEAST_STRIP_WIDTH_IN = 9
STEEPEST_SILL_DEG = 45


def _contradictions(detail: DetailFacts) -> Iterator[Fault]:
    """Yield the contradictions within one detail, each under the field that is to be changed."""
    if 0 < detail.strip_width_in < LEAST_STRIP_WIDTH_IN:
        yield _fault(
            detail,
            "strip_width_in",
            f'the strip width is {US.say(detail.strip_width_in)}; flashing strips are 12" wide, at least '
            f'{LEAST_STRIP_WIDTH_IN}", so that paper and strip still lap',
        )
    if detail.mounting is not Mounting.FLANGE and detail.jamb_flashing_over_flange:
        yield _fault(
            detail,
            "jamb_flashing_over_flange",
            f"the jamb flashing is to go over the flange, but a {detail.mounting} unit has no flange",
        )
    if detail.mounting is Mounting.CASING and detail.casing_width_in == 0:
        yield _fault(detail, "casing_width_in", "the casing width must be above 0 for a unit mounted by its casing")
    if detail.has_pan and detail.back_dam_in == 0 and detail.sill_slope_deg == 0:
        yield _fault(
            detail,
            "back_dam_in",
            "a pan needs a back dam or a sill that slopes out, or water runs in; both are 0",
        )
    if detail.has_pan and detail.sill_bead is SillBead.FULL:
        yield _fault(
            detail,
            "sill_bead",
            f"the sill bead is {detail.sill_bead}, but a pan drains at the sill: leave the sill open",
        )
    if detail.jamb_strip_short_in > detail.strip_width_in:
        yield _fault(
            detail,
            "jamb_strip_short_in",
            f"the jamb strips stop {US.say(detail.jamb_strip_short_in)} short, more than the strip is wide "
            f"({US.say(detail.strip_width_in)})",
        )
    for wanted, most in (
        ("ro_clearance_width_in", "most_clearance_width_in"),
        ("ro_clearance_height_in", "most_clearance_height_in"),
    ):
        wanted_in, most_in = getattr(detail, wanted), getattr(detail, most)
        if most_in < wanted_in:
            yield _fault(
                detail,
                most,
                f"the {field_name(most)} is {US.say(most_in)}, less than the {field_name(wanted)} of "
                f"{US.say(wanted_in)}; give at least that",
            )
    if detail.sill_slope_deg > STEEPEST_SILL_DEG:
        yield _fault(
            detail,
            "sill_slope_deg",
            f"the sill slopes {plain(detail.sill_slope_deg)}°; a sill slopes {STEEPEST_SILL_DEG}° at most",
        )


def _bad_figures(detail: DetailFacts) -> Iterator[Fault]:
    """Yield each figure that is not above nothing, or below it, where no detail can have that."""
    for name in _POSITIVE:
        if getattr(detail, name) <= 0:
            yield _fault(detail, name, f"the {field_name(name)} is {plain(getattr(detail, name))}; it must be above 0")
    for name in _NOT_NEGATIVE:
        if getattr(detail, name) < 0:
            yield _fault(
                detail, name, f"the {field_name(name)} is {plain(getattr(detail, name))}; it must not be negative"
            )
    if detail.fastener_allowable_lb is not None and detail.fastener_allowable_lb <= 0:
        allowable = detail.fastener_allowable_lb
        yield _fault(
            detail,
            "fastener_allowable_lb",
            f"the allowable load of a fastener is {US.say(allowable, 'lb')}; it must be above 0, or not given",
        )


def _fault(detail: DetailFacts, field: str, sentence: str) -> Fault:
    return Fault(field=field, value=str(getattr(detail, field)), detail=sentence)


def require_fit(opening: OpeningFacts, detail: DetailFacts) -> None:
    """Refuse a detail that this opening cannot take.

    Raises:
        BadDetail: a pan would turn up higher than the opening, or its back dam would fill it.
    """
    if detail.has_pan and max(detail.pan_turn_up_in, detail.back_dam_in) >= opening.ro_height_in:
        field = "pan_turn_up_in" if detail.pan_turn_up_in >= detail.back_dam_in else "back_dam_in"
        sentence = (
            f"the {field_name(field)} is {US.say(getattr(detail, field))}, but the rough opening is only "
            f"{US.say(opening.ro_height_in)} high"
        )
        raise BadDetail(sentence, faults=[_fault(detail, field, sentence)])
