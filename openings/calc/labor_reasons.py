"""Why an opening takes so much of a task: what is counted there, in words and numbers."""

from __future__ import annotations

from collections.abc import Callable

from openings.calc.facts import DetailFacts, OpeningFacts
from openings.calc.geometry import Points, anchor_points, flange_points, shim_points, strap_shim_points
from openings.calc.labor_rates import Task
from openings.calc.unit_lift import lift_of_unit
from openings.calc.units import Units


def _lifted(opening: OpeningFacts, detail: DetailFacts, units: Units) -> str:
    lift = lift_of_unit(opening, mounting=detail.mounting, units=units)
    return f"{lift.reason}; {lift.weight.reason}"


def _set(opening: OpeningFacts, detail: DetailFacts, units: Units) -> str:
    operated = f"; operation as scheduled: {opening.operation}" if opening.operation else ""
    return _lifted(opening, detail, units) + operated


def _shimmed(opening: OpeningFacts, detail: DetailFacts, _units: Units) -> str:
    others = ((strap_shim_points(opening, detail), "at straps"), (detail.lock_hinge_shim_points, "at locks and hinges"))
    more = "".join(f", {count} {where}" for count, where in others if count)
    return f"{_at(shim_points(opening, detail))}{more}; level, plumb and square"


def _flashed(_opening: OpeningFacts, detail: DetailFacts, _units: Units) -> str:
    return "sill strip, two jamb strips, head strip" if detail.has_head_strip else "sill strip, two jamb strips"


def _at(points: Points) -> str:
    places = ((points.jamb, "on each jamb"), (points.head, "on the head"), (points.sill, "on the sill"))
    return ", ".join(f"{count} {where}" for count, where in places if count)


_Because = Callable[[OpeningFacts, DetailFacts, Units], str]


def _always(sentence: str) -> _Because:
    return lambda _opening, _detail, _units: sentence


BECAUSE: dict[Task, _Because] = {
    Task.PREPARE: _always("measured, cleaned, cautions read"),
    Task.FLASH: _flashed,
    Task.PAN: _always("pan membrane and corners"),
    Task.SEAL: _always("beads run and tooled"),
    Task.RIG_AID: _lifted,
    Task.SET: _set,
    Task.SHIM: _shimmed,
    Task.FASTEN_FLANGE: lambda opening, detail, _units: _at(flange_points(opening, detail)),
    Task.STRAP: lambda opening, detail, _units: _at(anchor_points(opening, detail)),
    Task.SCREW: lambda opening, detail, _units: _at(anchor_points(opening, detail)),
    Task.HEAD_MEMBRANE: _always("lapped onto the top of the unit"),
    Task.HEAD_FLASHING: _always("cut, set, and lapped or bedded"),
    Task.AIR_SEAL: _always("backer rod and bead inside"),
    Task.CLEAN_UP: _always("checked, cleaned, labels off"),
}
"""By task: what its quantity counts at one opening."""
