"""What the crew that sets a unit leaves for the trade that comes next."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.calc.sentence import Sentence
from openings.calc.facts import DetailFacts
from openings.calc.geometry import (
    has_head_membrane,
    has_head_strip,
    has_second_strip,
    is_bedded_drip_cap,
    is_flashed_here,
)
from openings.calc.lay_looks import KEEP_OUT_IN
from openings.calc.terms import HeadFlashing, Mounting, SillBead
from openings.calc.units import US, Units


def left_for_next_trade(detail: DetailFacts, *, units: Units = US) -> tuple[Sentence, ...]:
    """Return which edges are free, where no fastener may go, and how the WRB laps in.

    Source:
        Free edges of the sill strip: AAMA 2400-10 cl. 5.7.3.3; of the jamb strips: AAMA 2400 (text not checked). Open
        sill: Building Science Corp. Info-302. The rest: common practice, no source.
    """
    return tuple(_left(detail, units))


def _left(detail: DetailFacts, units: Units) -> Iterator[Sentence]:
    if not is_flashed_here(detail):
        yield Sentence("The WRB and the flashing around the opening stay as they were found.")
    elif detail.barrier_before_window:
        yield Sentence("The WRB is on and its head flap is closed: nothing is left to tuck in.")
    else:
        yield from _free_edges(units)
        yield from _laps(detail)
    if detail.head_flashing is not HeadFlashing.NONE:
        yield Sentence("No sealant goes along the lower edge of the drip cap: water leaves there.")
    if detail.has_pan:
        yield Sentence("No fastener goes through the sill inside the opening: it would pierce the pan.")
    yield from _sill(detail)
    if detail.mounting is Mounting.CASING and detail.has_straps:
        yield Sentence("No fastener goes through the face of the casing: the unit hangs on its straps.")


def _free_edges(units: Units) -> Iterator[Sentence]:
    keep_out = units.say(KEEP_OUT_IN)
    yield Sentence(
        "The lower edge of the sill strip and the last {length} at each of its ends are free: no fastener goes there "
        "until the WRB is tucked up behind it.",
        length=keep_out,
    )
    yield Sentence(
        "The last {length} at the bottom of both jamb strips are free: the WRB goes up behind them too.",
        length=keep_out,
    )


def _laps(detail: DetailFacts) -> Iterator[Sentence]:
    yield Sentence("Above the sill the WRB laps over both jamb strips.")
    if has_head_strip(detail):
        yield Sentence("At the head the WRB laps down over the head strip.")
    elif has_second_strip(detail):
        yield Sentence("At the head the WRB laps down over the strip that covers the leg of the drip cap.")
    elif is_bedded_drip_cap(detail):
        yield Sentence("At the head the WRB laps down over the upright leg of the drip cap.")
    elif has_head_membrane(detail):
        yield Sentence("At the head the WRB laps down over the head membrane.")
    else:
        yield Sentence("At the head the WRB has no strip to lap over: have one laid first.")


def _sill(detail: DetailFacts) -> Iterator[Sentence]:
    if detail.sill_bead is SillBead.OPEN:
        yield Sentence("No sealant, trim or siding closes the joint under the unit: the sill drains there.")
    elif detail.sill_bead is SillBead.DRAIN_GAPS:
        yield Sentence("No sealant, trim or siding closes the gaps at both ends of the sill: it drains there.")
