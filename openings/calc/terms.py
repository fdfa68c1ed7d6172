"""The answers of a detail and of a unit that are words, in the terms of the trade."""

from __future__ import annotations

from enum import StrEnum


class Mounting(StrEnum):
    """How the unit is held to the wall."""

    FLANGE = "flange"
    CASING = "casing"
    BOX_FRAME = "box frame"


class HeadFlashing(StrEnum):
    """Whether there is a metal head flashing (drip cap), when it goes on, and what keeps water from behind its leg.

    Before the membrane, which covers its upright leg; after it, bedded in sealant; or after it, its leg covered by a
    second strip.
    """

    NONE = "none"
    BEFORE_MEMBRANE = "before membrane"
    AFTER_MEMBRANE = "after membrane"
    UNDER_SECOND_STRIP = "under second strip"


class SillBead(StrEnum):
    """What the bead of the unit does along the sill."""

    OPEN = "open to drain"
    DRAIN_GAPS = "gaps at both ends"
    FULL = "full"


class BeadShape(StrEnum):
    """The cross-section of a bead; the size of a bead is its diameter, its width or its leg."""

    ROUND = "round"
    RECTANGLE = "rectangle"
    FILLET = "fillet"


class FrameMaterial(StrEnum):
    """What the frame of a unit is made of."""

    VINYL = "vinyl"
    WOOD = "wood"
    ALUMINUM = "aluminum"
    FIBERGLASS = "fiberglass"


class FastenerKind(StrEnum):
    """What a fastener is, by which its withdrawal is worked out."""

    NAIL = "nail"
    SCREW = "screw"
