"""The steps of one opening in lay order, each with its drawing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from openings.calc.card import air_seal, anchors, barrier, beads, head, pan, strips, unit
from openings.calc.card.sketch import Measure, Sketch
from openings.calc.card.subject import Seal, Subject
from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.lay_order import Step, steps_for
from openings.calc.step_code import StepCode
from openings.calc.units import US, Units


class Example(NamedTuple):
    """The rough opening for which a detail is drawn while it has none of its own (our choice)."""

    width_in: Decimal = Decimal(36)
    height_in: Decimal = Decimal(48)


@dataclass(frozen=True, slots=True, kw_only=True)
class CardStep:
    """One step with its number in lay order and its drawings."""

    number: int
    step: Step
    sketches: tuple[Sketch, ...]

    @property
    def measures(self) -> tuple[Measure, ...]:
        """Return what is measured at this step, drawing after drawing."""
        return tuple(measure for sketch in self.sketches for measure in sketch.measures)


@lru_cache(maxsize=128)
def card_of(
    opening: OpeningFacts, detail: DetailFacts, *, seals: tuple[Seal, ...] = (), units: Units = US
) -> tuple[CardStep, ...]:
    """Return the steps of one opening in lay order, each with what it looks like and what is measured there.

    Remembered, since the units of a job have few sizes.

    Args:
        seals: the joints that are sealed inside, with the rods that are chosen for them.
    """
    subject = Subject(opening, detail, units, seals)
    return tuple(
        CardStep(number=number, step=step, sketches=_sketches(step.code, subject))
        for number, step in enumerate(steps_for(detail, units=units), start=1)
    )


def _sketches(code: StepCode, subject: Subject) -> tuple[Sketch, ...]:
    drawn = _DRAWN[code](subject)
    return (drawn,) if isinstance(drawn, Sketch) else drawn


_DRAWN: dict[StepCode, Callable[[Subject], Sketch | tuple[Sketch, ...]]] = {
    StepCode.FOLD_BARRIER: barrier.fold_barrier,
    StepCode.SILL_STRIP: strips.sill_strip,
    StepCode.CORNER_PIECES: pan.corner_pieces,
    StepCode.PAN: pan.pan,
    StepCode.JAMB_STRIPS: strips.jamb_strips,
    StepCode.JOINT_BEAD: beads.joint_bead,
    StepCode.STRAPS: anchors.straps,
    StepCode.SETTING_BEAD: beads.setting_bead,
    StepCode.SET_UNIT: unit.set_unit,
    StepCode.SHIM: anchors.shims,
    StepCode.FASTEN: anchors.fasteners,
    StepCode.TOOL_BEAD: beads.tool_bead,
    StepCode.DRIP_CAP: head.drip_cap,
    StepCode.COUNTER_FLASHING: strips.counter_flashing,
    StepCode.HEAD_MEMBRANE: head.head_membrane,
    StepCode.HEAD_STRIP: strips.head_strip,
    StepCode.CLOSE_BARRIER: barrier.close_barrier,
    StepCode.AIR_SEAL: air_seal.air_seal,
}
