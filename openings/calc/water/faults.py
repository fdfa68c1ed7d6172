"""The faults of a wall by name: what is wrong, what would mend it, and where it is said."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple

from jobs.calc.sentence import Sentence
from openings.calc.units import US, Units
from openings.calc.water.drops import SEEP_BETWEEN_WRB_IN, Kind, least_lap_in
from openings.calc.water.layers import Role

CP = "common practice, no source"
ORDER = "AWDI manual p. 23; BSESC/DOE, sill pan page"
PAN_TESTS = "Building Science Corp. Info-302"
COURSES = "IRC R703.2"
FLASHING = "IRC R703.4"
BEADS = "AAMA 2400-10 cl. 5.7.3.4"


LEAST_TURN_UP_IN, USUAL_TURN_UP_IN = Decimal(4), Decimal(6)
"""4 to 6 in up each jamb: Fine Homebuilding, sill pan; JLC photo guide."""
LEAST_FRONT_LAP_IN = Decimal(1)
"""Our choice; that the pan laps over the drainage plane below: Building Science Corp. Info-302."""


class Severity(StrEnum):
    """What a fault does, the worst first. The first two keep a detail from being given to an opening (our choice)."""

    LEAK = "leak"
    SECOND_LINE = "second line"
    DRAINS = "drains again"
    NOTE = "note"


class Name(StrEnum):
    """A fault by a short name that stays the same."""

    HEAD_BEFORE_JAMBS = "head-before-jambs"
    JAMBS_BEFORE_SILL = "jambs-before-sill"
    SILL_OVER_UNIT = "sill-over-unit"
    UNIT_OVER_HEAD = "unit-over-head"
    WRB_OVER_SILL = "wrb-over-sill"
    WRB_UNDER_HEAD = "wrb-under-head"
    FLAP_CUT_SHORT = "flap-cut-short"
    FLAP_CORNER = "flap-corner"
    FLAP_UNTAPED = "flap-untaped"
    OVER_AND_BEHIND = "over-and-behind"
    TUCK_CLOSED = "tuck-closed"
    CAP_LEG_UNCOVERED = "cap-leg-uncovered"
    TOP_NOT_BONDED = "top-not-bonded"
    PAN_NO_FRONT_LAP = "pan-no-front-lap"
    PAN_BEFORE_SILL = "pan-before-sill"
    PAN_AFTER_UNIT = "pan-after-unit"
    PAN_LOW_TURN_UP = "pan-low-turn-up"
    PAN_SHORT = "pan-short"
    PAN_LEVEL = "pan-level"
    PAN_SLIT = "pan-slit"
    PAN_FASTENED = "pan-fastened"
    SILL_DAMMED = "sill-dammed"
    HEAD_SEALED = "head-sealed"
    EDGE_SEALED = "edge-sealed"
    COURSES_REVERSED = "courses-reversed"
    COURSES_LAP = "courses-lap"
    COURSES_SIDE_LAP = "courses-side-lap"
    SHORT_LAP = "short-lap"
    NO_HEAD_BEAD = "no-head-bead"
    NO_JAMB_BEAD = "no-jamb-bead"
    JAMB_NOT_BEDDED = "jamb-not-bedded"
    NO_HEAD_FLASHING = "no-head-flashing"
    HEAD_SHORT = "head-short"
    JAMB_SHORT = "jamb-short"
    NO_JAMB_STRIP = "no-jamb-strip"
    NO_SILL_STRIP = "no-sill-strip"
    NO_UNIT = "no-unit"
    NO_WRB = "no-wrb"
    BARE_WALL = "bare-wall"
    OPEN_EDGE = "open-edge"
    OPEN_SIDE = "open-side"
    REVERSE_LAP = "reverse-lap"
    ONLY_THE_BOND = "only-the-bond"
    NO_PAN = "no-pan"


OF_THE_PAN = (
    Name.PAN_NO_FRONT_LAP, Name.PAN_LOW_TURN_UP, Name.PAN_SHORT, Name.PAN_LEVEL, Name.PAN_SLIT, Name.PAN_FASTENED,
)  # fmt: skip
"""What is wrong with a pan by itself."""


class Told(NamedTuple):
    """What is said of a fault, with the lengths that are filled in, in inches."""

    what_text: str
    mend_text: str
    source: str
    lengths: Mapping[str, Decimal]

    def what(self, units: Units = US) -> Sentence:
        """Return what is wrong."""
        return Sentence(self.what_text, **self._said(units))

    def mend(self, units: Units = US) -> Sentence:
        """Return what would mend it."""
        return Sentence(self.mend_text, **self._said(units))

    def _said(self, units: Units) -> dict[str, str]:
        return {name: units.say(length_in) for name, length_in in self.lengths.items()}


def _told(what: str, mend: str, source: str = CP, **lengths: Decimal) -> Told:
    return Told(what, mend, source, lengths)


TOLD: Mapping[Name, Told] = {
    Name.HEAD_BEFORE_JAMBS: _told(
        "The head flashing was laid before the jamb strips and lies under them.",
        "Lay the head flashing after both jamb strips, over their upper ends.",
        ORDER,
    ),
    Name.JAMBS_BEFORE_SILL: _told(
        "The jamb strips were laid before the sill strip and lie under it.",
        "Lay the sill strip first and the jamb strips over it.",
        ORDER,
    ),
    Name.SILL_OVER_UNIT: _told(
        "The sill strip was laid over the unit: what runs down the unit runs behind it.",
        "Lay the sill strip before the unit is set.",
        ORDER,
    ),
    Name.UNIT_OVER_HEAD: _told(
        "The unit was set over the head flashing: what runs down that runs behind the unit.",
        "Set the unit first and lay the head flashing over its head.",
        "AAMA 2400-10 cl. 5.7.3",
    ),
    Name.WRB_OVER_SILL: _told(
        "The WRB lies over the sill strip, not behind it.",
        "Put the WRB up behind the sill strip and the tails of the jamb strips; cut it level with the sill.",
        "AAMA 2400-10 cl. 5.7.3.3",
    ),
    Name.WRB_UNDER_HEAD: _told(
        "The WRB runs on under the head strip: it was not slit and folded, so what it sheds runs behind the strip.",
        "Slit the WRB at 45° from the top corners, fold it up, and fold it down over the head strip.",
        "JLC, flashing a window in new construction",
    ),
    Name.FLAP_CUT_SHORT: _told(
        "The cuts of the head flap are too short: above the fold the WRB stays under the head flashing.",
        "Cut the flap as long as the head flashing reaches: its height times 1.41 at 45°.",
        "arithmetic: a cut at 45° is √2 as long as the height that it opens",
    ),
    Name.FLAP_CORNER: _told(
        "The head flap laps too little at the corner: the upper edge of the head flashing shows beside it.",
        "Cut the flap longer, or the head flashing shorter, so that the flap covers its upper corners.",
        CP,
    ),
    Name.FLAP_UNTAPED: _told(
        "The cuts of the head flap are not taped: water creeps into them at the corners.",
        "Tape both cuts over the closed flap.",
        "JLC, flashing a window in new construction",
    ),
    Name.OVER_AND_BEHIND: _told(
        "One sheet lies over another in one place and behind it in the next, and neither is cut between.",
        "Cut the sheet where it changes sides, or lay it on one side everywhere.",
        "our own reasoning: an uncut sheet cannot pass through another",
    ),
    Name.TUCK_CLOSED: _told(
        "A sheet is to go behind another whose lower edge is fastened or sealed.",
        "Leave the lower edge free until the sheet is tucked behind it.",
        "AAMA 2400-10 cl. 5.7.3.3",
    ),
    Name.CAP_LEG_UNCOVERED: _told(
        "The upright leg of the drip cap is not covered: water gets behind it.",
        "Cover the leg with the membrane, the head strip or a second strip, or bed it in sealant.",
        "AWDI manual p. 23; common practice",
    ),
    Name.TOP_NOT_BONDED: _told(
        "The upper edge of a membrane or strip lies open on the WRB: what that sheds runs behind it.",
        "Bond its upper edge, or lap the WRB over it.",
        FLASHING,
    ),
    Name.PAN_NO_FRONT_LAP: _told(
        "The pan does not lap down over the sill strip: what it collects runs into the wall.",
        "Fold its front edge down over the sill strip, {least} at least.",
        PAN_TESTS,
        least=LEAST_FRONT_LAP_IN,
    ),
    Name.PAN_BEFORE_SILL: _told(
        "The sill strip lies over the front of the pan: what the pan collects runs behind the strip.",
        "Lay the sill strip first and the pan over it.",
        PAN_TESTS,
    ),
    Name.PAN_AFTER_UNIT: _told(
        "The pan was laid after the unit was set, so it cannot lie under it.",
        "Lay the pan before the unit is set.",
        PAN_TESTS,
    ),
    Name.PAN_LOW_TURN_UP: _told(
        "The pan turns up less than {least} at the jambs, so it has no end dams to speak of.",
        "Turn it up {least} to {usual} at each jamb.",
        "Fine Homebuilding, sill pan; JLC photo guide",
        least=LEAST_TURN_UP_IN,
        usual=USUAL_TURN_UP_IN,
    ),
    Name.PAN_SHORT: _told(
        "The pan is shorter than the rough opening and both its turn-ups.",
        "Cut it as long as the rough opening is wide, and a turn-up more at each end.",
        "Fine Homebuilding, sill pan; JLC photo guide",
    ),
    Name.PAN_LEVEL: _told(
        "The pan has neither a back dam nor a slope to the outside: water runs in.",
        "Give it a back dam, or slope the sill to the outside.",
        PAN_TESTS,
    ),
    Name.PAN_SLIT: _told(
        "A slit goes through the base of the pan.",
        "Slit it at the front corners only, or lay it over corner pieces.",
        PAN_TESTS,
    ),
    Name.PAN_FASTENED: _told(
        "A fastener goes through the base of the pan.",
        "Fasten above the pan, at the jambs.",
        "trade page, secondary",
    ),
    Name.SILL_DAMMED: _told(
        "The sill is sealed below the pan: the water in the pan is dammed.",
        "Leave the sill open, or leave gaps in its bead.",
        PAN_TESTS,
    ),
    Name.HEAD_SEALED: _told(
        "The lower edge of the head strip is sealed: water behind it cannot run out.",
        "Leave the lower edge of the head strip open.",
        PAN_TESTS,
    ),
    Name.EDGE_SEALED: _told(
        "A lower edge is sealed: water behind it cannot run out.",
        "Leave that lower edge open, or leave gaps in its bead.",
        PAN_TESTS,
    ),
    Name.COURSES_REVERSED: _told(
        "An upper course of the WRB was laid before the one below it and lies under it.",
        "Lay the courses from the bottom up, each over the one below.",
        COURSES,
    ),
    Name.COURSES_LAP: _told(
        "A course of the WRB laps less than {least} over the one below.",
        "Lap each course {least} or more.",
        COURSES,
        least=least_lap_in(Role.WRB, Role.WRB),
    ),
    Name.COURSES_SIDE_LAP: _told(
        "Two sheets of the WRB lap less than {least} at an upright joint.",
        "Lap upright joints {least} or more.",
        COURSES,
        least=SEEP_BETWEEN_WRB_IN,
    ),
    Name.SHORT_LAP: _told(
        "A layer laps too little over the one below.",
        "Lap it {least} or more; onto or from a unit or a drip cap, {unit} or more.",
        "our choice",
        least=least_lap_in(Role.JAMB_STRIP, Role.SILL_STRIP),
        unit=least_lap_in(Role.UNIT, Role.SILL_STRIP),
    ),
    Name.NO_HEAD_BEAD: _told(
        "The head of the unit is not sealed to the wall.",
        "Run the bead along the head without a break.",
        BEADS,
    ),
    Name.NO_JAMB_BEAD: _told(
        "The jambs of the unit are not sealed to the wall.",
        "Run the bead along both jambs without a break.",
        BEADS,
    ),
    Name.JAMB_NOT_BEDDED: _told(
        "The jamb strips are not bonded to the flange that they cover.",
        "Bed the jamb strips in sealant on the flange, or use a self-adhered strip.",
        "AAMA 2400, from memory",
    ),
    Name.NO_HEAD_FLASHING: _told(
        "No flashing laps over the whole head of the unit.",
        "Lay a head strip or a head membrane over it, or a drip cap that reaches past both its ends.",
        FLASHING,
    ),
    Name.HEAD_SHORT: _told(
        "The head strip does not cover the upper ends of both jamb strips.",
        "Cut the head strip as long as the opening is wide and a strip more at each side.",
        "AAMA 2400-10 note 3",
    ),
    Name.JAMB_SHORT: _told(
        "A jamb strip does not reach down over the sill strip.",
        "Cut the jamb strips so that they lap over the sill strip.",
        "AAMA 2400, from memory",
    ),
    Name.NO_JAMB_STRIP: _told(
        "A jamb has no flashing strip.", "Lay a strip along both jambs, over the sill strip.", FLASHING
    ),
    Name.NO_SILL_STRIP: _told(
        "There is no sill strip for jamb strips and pan to drain onto.",
        "Lay a sill strip first, as long as the opening is wide and a strip more at each side.",
        FLASHING,
    ),
    Name.NO_UNIT: _told("No unit closes the opening.", "Add the unit with its flange or casing.", "our own reasoning"),
    Name.NO_WRB: _told(
        "There is no WRB for the flashing to drain onto.",
        "Add the WRB, whoever lays it: tucked behind the sill strip and over jambs and head, or first and under them.",
        COURSES,
    ),
    Name.BARE_WALL: _told("Bare wall is open to rain here.", "Cover it with the WRB.", COURSES),
    Name.OPEN_EDGE: _told(
        "A layer ends with nothing below that takes its water.",
        "Lap it over a layer that goes on.",
        FLASHING,
    ),
    Name.OPEN_SIDE: _told(
        "Water creeps behind an upright edge and past the end of what lies beneath.",
        "Lap it further, or bond that edge.",
        FLASHING,
    ),
    Name.REVERSE_LAP: _told(
        "An upper layer sheds behind a lower one.", "Lay the lower one first, and the upper one over it.", FLASHING
    ),
    Name.ONLY_THE_BOND: _told(
        "Rain runs against an upper edge that only its bond keeps closed.",
        "Lap a layer over that edge where you can; else see that the bond has no gap.",
        CP,
    ),
    Name.NO_PAN: _told(
        "Without a pan, what gets past the unit runs into the wall.",
        "Lay a pan, unless local code and the maker do without.",
        FLASHING,
    ),
}


class _Row(NamedTuple):
    kind: Kind
    outer: Role | None
    inner: Role | None
    name: Name


_ANY = None
_ROWS = (
    _Row(Kind.BEHIND, Role.CAP, _ANY, Name.CAP_LEG_UNCOVERED),
    _Row(Kind.BEHIND, Role.HEAD_STRIP, Role.WRB, Name.WRB_UNDER_HEAD),
    _Row(Kind.BEHIND, Role.MEMBRANE, Role.WRB, Name.TOP_NOT_BONDED),
    _Row(Kind.BEHIND, Role.SECOND_STRIP, Role.WRB, Name.TOP_NOT_BONDED),
    _Row(Kind.BEHIND, Role.WRB, Role.WRB, Name.COURSES_REVERSED),
    _Row(Kind.BEHIND, Role.WRB, Role.SILL_STRIP, Name.WRB_OVER_SILL),
    _Row(Kind.BEHIND, Role.WRB, Role.PAN, Name.WRB_OVER_SILL),
    _Row(Kind.BEHIND, Role.WRB, Role.UNIT, Name.WRB_OVER_SILL),
    _Row(Kind.BEHIND, Role.JAMB_STRIP, Role.HEAD_STRIP, Name.HEAD_BEFORE_JAMBS),
    _Row(Kind.BEHIND, Role.JAMB_STRIP, Role.MEMBRANE, Name.HEAD_BEFORE_JAMBS),
    _Row(Kind.BEHIND, Role.JAMB_STRIP, Role.WRB, Name.HEAD_SHORT),
    _Row(Kind.BEHIND, Role.SILL_STRIP, Role.JAMB_STRIP, Name.JAMBS_BEFORE_SILL),
    _Row(Kind.BEHIND, Role.SILL_STRIP, Role.PAN, Name.PAN_BEFORE_SILL),
    _Row(Kind.BEHIND, Role.SILL_STRIP, Role.UNIT, Name.SILL_OVER_UNIT),
    _Row(Kind.BEHIND, Role.UNIT, Role.HEAD_STRIP, Name.UNIT_OVER_HEAD),
    _Row(Kind.BEHIND, Role.UNIT, Role.MEMBRANE, Name.UNIT_OVER_HEAD),
    _Row(Kind.BEHIND, Role.UNIT, _ANY, Name.NO_HEAD_BEAD),
    _Row(Kind.BEHIND, _ANY, _ANY, Name.REVERSE_LAP),
    _Row(Kind.SIDE, Role.UNIT, _ANY, Name.NO_JAMB_BEAD),
    _Row(Kind.SIDE, Role.JAMB_STRIP, Role.UNIT, Name.JAMB_NOT_BEDDED),
    _Row(Kind.SIDE, Role.WRB, Role.WRB, Name.COURSES_SIDE_LAP),
    _Row(Kind.SIDE, _ANY, _ANY, Name.OPEN_SIDE),
    _Row(Kind.DAM, Role.UNIT, _ANY, Name.SILL_DAMMED),
    _Row(Kind.DAM, Role.HEAD_STRIP, _ANY, Name.HEAD_SEALED),
    _Row(Kind.DAM, _ANY, _ANY, Name.EDGE_SEALED),
    _Row(Kind.BARE, Role.JAMB_STRIP, _ANY, Name.JAMB_SHORT),
    _Row(Kind.BARE, _ANY, _ANY, Name.OPEN_EDGE),
    _Row(Kind.LAP, Role.WRB, Role.WRB, Name.COURSES_LAP),
    _Row(Kind.LAP, _ANY, _ANY, Name.SHORT_LAP),
    _Row(Kind.BOND, _ANY, _ANY, Name.ONLY_THE_BOND),
)


def name_of(kind: Kind, outer: Role | None, inner: Role | None) -> Name:
    """Return the name of what befalls a drop between two layers.

    >>> name_of(Kind.BEHIND, Role.JAMB_STRIP, Role.HEAD_STRIP).value
    'head-before-jambs'
    """
    return next(
        row.name for row in _ROWS if row.kind is kind and row.outer in (_ANY, outer) and row.inner in (_ANY, inner)
    )
