"""The steps of an installation by name."""

from __future__ import annotations

from enum import StrEnum


class StepCode(StrEnum):
    """One step, by the short name under which it is recorded."""

    FOLD_BARRIER = "fold-barrier"
    SILL_STRIP = "sill-strip"
    CORNER_PIECES = "corner-pieces"
    PAN = "pan"
    JAMB_STRIPS = "jamb-strips"
    JOINT_BEAD = "joint-bead"
    STRAPS = "straps"
    SETTING_BEAD = "setting-bead"
    SET_UNIT = "set-unit"
    SHIM = "shim"
    FASTEN = "fasten"
    TOOL_BEAD = "tool-bead"
    DRIP_CAP = "drip-cap"
    COUNTER_FLASHING = "counter-flashing"
    HEAD_MEMBRANE = "head-membrane"
    HEAD_STRIP = "head-strip"
    CLOSE_BARRIER = "close-barrier"
    AIR_SEAL = "air-seal"
