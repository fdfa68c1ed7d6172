"""The steps of an installation in lay order, and the steps that each of them needs first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass

from jobs.calc.say import plural
from jobs.calc.sentence import Sentence
from jobs.errors import Fault
from openings.calc.facts import DetailFacts
from openings.calc.geometry import has_head_membrane, has_head_strip, has_second_strip, is_flashed_here
from openings.calc.lay_looks import bead_in, looks_of
from openings.calc.lay_titles import SOURCES, title_of
from openings.calc.lay_whys import why_of
from openings.calc.step_code import StepCode
from openings.calc.terms import HeadFlashing, Mounting
from openings.calc.units import US, Units
from openings.errors import BadDetail, StepUnknown

CAUTION = (
    "Lifting, glass and ladders hurt people, and a badly anchored unit falls: the maker's instructions, local code and "
    "the site's competent person go before this order."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step for the crew.

    Args:
        after: codes of the steps that must precede it directly.
        see: what must be seen once it is done.
        why: why it is done, and done there, in one line.
        is_hold_point: work stops here until somebody has looked.
    """

    code: StepCode
    title: Sentence
    after: tuple[StepCode, ...]
    see: tuple[Sentence, ...]
    why: Sentence
    is_hold_point: bool
    source: str


_NEEDS: dict[StepCode, tuple[StepCode, ...]] = {
    StepCode.FOLD_BARRIER: (),
    StepCode.SILL_STRIP: (StepCode.FOLD_BARRIER,),
    StepCode.CORNER_PIECES: (StepCode.SILL_STRIP,),
    StepCode.PAN: (StepCode.SILL_STRIP, StepCode.CORNER_PIECES),
    StepCode.JAMB_STRIPS: (StepCode.SILL_STRIP, StepCode.CORNER_PIECES, StepCode.PAN, StepCode.FASTEN),
    StepCode.JOINT_BEAD: (),
    StepCode.STRAPS: (),
    StepCode.SETTING_BEAD: (StepCode.SILL_STRIP, StepCode.PAN, StepCode.JAMB_STRIPS, StepCode.JOINT_BEAD),
    StepCode.SET_UNIT: (
        StepCode.SILL_STRIP,
        StepCode.PAN,
        StepCode.JAMB_STRIPS,
        StepCode.JOINT_BEAD,
        StepCode.STRAPS,
        StepCode.SETTING_BEAD,
    ),
    StepCode.SHIM: (StepCode.SET_UNIT,),
    StepCode.FASTEN: (StepCode.STRAPS, StepCode.SHIM),
    StepCode.TOOL_BEAD: (StepCode.FASTEN,),
    StepCode.DRIP_CAP: (StepCode.FASTEN, StepCode.TOOL_BEAD, StepCode.JAMB_STRIPS, StepCode.HEAD_MEMBRANE),
    StepCode.COUNTER_FLASHING: (StepCode.HEAD_MEMBRANE, StepCode.DRIP_CAP),
    StepCode.HEAD_MEMBRANE: (StepCode.FASTEN, StepCode.TOOL_BEAD, StepCode.JAMB_STRIPS, StepCode.DRIP_CAP),
    StepCode.HEAD_STRIP: (
        StepCode.JAMB_STRIPS,
        StepCode.FASTEN,
        StepCode.TOOL_BEAD,
        StepCode.DRIP_CAP,
        StepCode.COUNTER_FLASHING,
        StepCode.HEAD_MEMBRANE,
    ),
    StepCode.CLOSE_BARRIER: (
        StepCode.JAMB_STRIPS,
        StepCode.FASTEN,
        StepCode.DRIP_CAP,
        StepCode.COUNTER_FLASHING,
        StepCode.HEAD_MEMBRANE,
        StepCode.HEAD_STRIP,
    ),
    StepCode.AIR_SEAL: (StepCode.FASTEN,),
}
"""What a step laps over or rests on. Holds for every detail: a step that a detail lacks, or that it puts
later (jamb strips over a flange, a drip cap over the membrane), is left out of `Step.after`."""

HOLD_POINTS = frozenset({StepCode.PAN, StepCode.SHIM, StepCode.TOOL_BEAD, StepCode.DRIP_CAP})
"""Steps after which work stops until somebody has looked (our choice): what leaks if it is wrong, and is covered for
good by what follows. So is the last step at the head. A bead that the unit is set into is none of them, since it skins
over while one waits."""

_AT_HEAD = (StepCode.HEAD_MEMBRANE, StepCode.DRIP_CAP, StepCode.COUNTER_FLASHING, StepCode.HEAD_STRIP)


def steps_for(detail: DetailFacts, *, units: Units = US) -> tuple[Step, ...]:
    """Return the steps of one detail in lay order; every step stands behind those it needs.

    >>> from openings.calc.starting_details import STARTING_DETAILS
    >>> [step.code.value for step in steps_for(STARTING_DETAILS["casing, paper after"])][:3]
    ['sill-strip', 'corner-pieces', 'pan']

    The order is one of several: steps that do not need one another may swap, see `ready_steps`.

    Where the barrier follows the window (A, B), it is not among the steps: others lay it later, tucked under
    the sill strip and over jamb and head strips. Where it precedes the window (A1, B1), its head flap is
    folded up first and closed last.

    Source:
        Sill before jambs before head, pan before the window: AWDI manual p. 23; BSESC/DOE, sill pan page.
        Jamb flashing before (B, B1) or after (A, A1) the window: AAMA 2400-10 cl. 5.7.3.
        Corner pieces, casing joint, setting bead, squeeze-out, head membrane: common practice, no source.
        Each step names its own in `source`.

    Raises:
        BadDetail: the detail has an order of its own that is none of its steps.
    """
    require_order(detail)
    usual = usual_order(detail)
    codes = detail.own_order or usual
    held = HOLD_POINTS | set([code for code in codes if code in _AT_HEAD][-1:])
    return tuple(
        Step(
            code=code,
            title=title_of(code, detail),
            after=_after(code, codes[:place], usual),
            see=looks_of(code, detail, units),
            why=why_of(code, detail),
            is_hold_point=code in held,
            source=SOURCES[code],
        )
        for place, code in enumerate(codes)
    )


def _after(code: StepCode, before: Sequence[StepCode], usual: Sequence[StepCode]) -> tuple[StepCode, ...]:
    """Return which of the steps before one must precede it directly.

    In an order of its own what usually needs a step may come before it: then it is the step that needs it.
    """
    later = usual[usual.index(code) :]
    turned_round = [other for other in before if other in later and code in _NEEDS[other]]
    return tuple(dict.fromkeys([*(needed for needed in _NEEDS[code] if needed in before), *turned_round]))


def read_order(codes: Iterable[str]) -> tuple[StepCode, ...]:
    """Return an order of steps from their codes.

    Raises:
        BadDetail: there is no such step.
    """
    codes = list(codes)
    known = {code.value: code for code in StepCode}
    unknown = [code for code in codes if code not in known]
    if unknown:
        _refuse_order(codes, f"{', '.join(unknown)}: no such install {plural('step', len(unknown))}; {_ALL_STEPS}")
    return tuple(known[code] for code in codes)


def require_order(detail: DetailFacts) -> None:
    """Refuse an order of its own in which a step of the detail is missing, stands twice, or is none of it.

    Raises:
        BadDetail: it is so; the sentence names the steps.
    """
    own = detail.own_order
    if not own:
        return
    usual = usual_order(detail)
    twice = [code for code in usual if own.count(code) > 1]
    faults = [
        f"{word}: {', '.join(codes)}"
        for word, codes in (
            ("missing", [code for code in usual if code not in own]),
            ("not a step of this detail", [code for code in dict.fromkeys(own) if code not in usual]),
            ("there more than once", twice),
        )
        if codes
    ]
    if faults:
        _refuse_order(own, f"{'; '.join(faults)}. Give each of {', '.join(usual)} once, or nothing for the usual order")


_ALL_STEPS = f"the steps are {', '.join(StepCode)}"


def _refuse_order(codes: Sequence[str], wrong: str) -> None:
    sentence = f"the order of steps: {wrong}"
    raise BadDetail(sentence, faults=[Fault(field="own_order", value=", ".join(codes), detail=sentence)])


def ready_steps(*, done: Set[str], steps: Sequence[Step]) -> tuple[Step, ...]:
    """Return every step that may be done now, in lay order: not done itself, and all that it needs is.

    Args:
        done: codes of the steps that are recorded.
        steps: the lay order, from `steps_for`.
    """
    return tuple(step for step in steps if step.code not in done and done >= set(step.after))


def first_missing(code: str, *, done: Set[str], steps: Sequence[Step]) -> Step | None:
    """Return the first step in lay order that must still precede `code`, or None where it may be done now.

    Args:
        done: codes of the steps that are recorded.
        steps: the lay order, from `steps_for`.

    Raises:
        StepUnknown: the lay order has no such step.
    """
    needed = {code}
    if code not in {step.code for step in steps}:
        sentence = f"{code} is not a step here; the steps are {', '.join(step.code for step in steps)}"
        raise StepUnknown(sentence, faults=[Fault(field="step", value=code, detail=sentence)])
    for step in reversed(steps):
        if step.code in needed:
            needed.update(step.after)
    return next((step for step in steps if step.code in needed - {code} - done), None)


def usual_order(detail: DetailFacts) -> tuple[StepCode, ...]:
    """Return the codes of the steps that this detail has, in the usual lay order."""
    flashed = is_flashed_here(detail)
    over_flange = detail.jamb_flashing_over_flange
    flap = flashed and detail.barrier_before_window
    cap = detail.head_flashing
    has_step = (
        (StepCode.FOLD_BARRIER, flap),
        (StepCode.SILL_STRIP, flashed),
        (StepCode.CORNER_PIECES, detail.has_pan and detail.has_corner_pieces),
        (StepCode.PAN, detail.has_pan),
        (StepCode.JAMB_STRIPS, flashed and not over_flange),
        (StepCode.JOINT_BEAD, detail.mounting is Mounting.CASING and detail.joint_bead_in > 0),
        (StepCode.STRAPS, detail.has_straps),
        (StepCode.SETTING_BEAD, bead_in(detail) > 0),
        (StepCode.SET_UNIT, True),
        (StepCode.SHIM, True),
        (StepCode.FASTEN, True),
        (StepCode.TOOL_BEAD, detail.mounting is not Mounting.FLANGE and bead_in(detail) > 0),
        (StepCode.JAMB_STRIPS, flashed and over_flange),
        (StepCode.DRIP_CAP, cap is HeadFlashing.BEFORE_MEMBRANE),
        (StepCode.HEAD_MEMBRANE, has_head_membrane(detail)),
        (StepCode.DRIP_CAP, cap in (HeadFlashing.AFTER_MEMBRANE, HeadFlashing.UNDER_SECOND_STRIP)),
        (StepCode.COUNTER_FLASHING, has_second_strip(detail)),
        (StepCode.HEAD_STRIP, has_head_strip(detail)),
        (StepCode.CLOSE_BARRIER, flap),
        (StepCode.AIR_SEAL, detail.has_air_seal),
    )
    return tuple(code for code, is_there in has_step if is_there)
