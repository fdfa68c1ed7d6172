"""What of a schedule's difference somebody chose."""

from __future__ import annotations

from dataclasses import dataclass

from openings.schedules import APPLIED, Change


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What of a difference is applied.

    Args:
        kinds: those of `APPLIED` that are.
        leave: marks of openings that are left as they are, whatever the file says; a mark of the schedule means all
            of its openings.
        seen: fingerprint of the plan that was looked at; empty if nobody looks first.
    """

    kinds: frozenset[Change] = frozenset(APPLIED)
    leave: frozenset[str] = frozenset()
    seen: str = ""

    def left_out(self, change: Change, mark: str, *, of: str) -> str:
        """Return why an opening of a schedule mark is left as it is by choice; nothing if it is not."""
        kind = Change.ADDED if change is Change.RESTORED else change
        return "it was left out by choice" if kind not in self.kinds or not self.leave.isdisjoint((mark, of)) else ""


EVERYTHING = Choice()
"""All that can be done of it."""
