"""The seal around the unit from inside: rod and bead in the gap."""

from __future__ import annotations

from decimal import Decimal

from jobs.calc.sentence import Sentence
from openings.calc.card.sketch import Pencil, Sketch
from openings.calc.card.subject import Seal, Subject

CUT_THROUGH = Sentence("The gap cut through, not to scale")
FRAMING, UNIT = Sentence("framing"), Sentence("unit")

_GAPS = {
    "jambs": Sentence("gap at the jambs"),
    "head and sill": Sentence("gap at head and sill"),
}
_RODS = {
    "jambs": Sentence("backer rod at the jambs"),
    "head and sill": Sentence("backer rod at head and sill"),
}
_DEPTHS = {
    "jambs": Sentence("depth of the bead over the rod at the jambs"),
    "head and sill": Sentence("depth of the bead over the rod at head and sill"),
}


def air_seal(subject: Subject) -> Sketch:
    """Draw a gap with its rod and its bead, and list what each of them takes."""
    pencil = Pencil()
    top, deep, gap = Decimal(40), Decimal(96), Decimal(60)
    left = Decimal(140)
    pencil.box("framing", Decimal(20), top, left - 20, deep)
    pencil.box("unit", left + gap, top, Decimal(120), deep)
    pencil.box("sealant", left, top, gap, Decimal(26), is_now=True)
    pencil.dot("rod", left + gap / 2, top + 26 + gap / 2, gap / 2)
    pencil.note(FRAMING, Decimal(80), top + deep / 2)
    pencil.note(UNIT, left + gap + 60, top + deep / 2)
    pencil.note(Sentence("inside"), left + gap / 2, Decimal(16))
    for seal in subject.seals:
        _listed(pencil, subject, seal)
    return pencil.finished(CUT_THROUGH, top + deep + 12)


def _listed(pencil: Pencil, subject: Subject, seal: Seal) -> None:
    pencil.listed(_GAPS[seal.at], subject.say(seal.gap_in))
    if seal.rod_in is not None:
        pencil.listed(_RODS[seal.at], subject.say(seal.rod_in))
        pencil.listed(_DEPTHS[seal.at], subject.say(seal.depth_in))
