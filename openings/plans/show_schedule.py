"""What taking a schedule would do, as plain values: the same for a dry run, a draft and a page."""

from __future__ import annotations

from typing import Any

from openings.calc.facts import OpeningFacts
from openings.plans.plan_schedule import PlannedOpening, SchedulePlan
from openings.plans.row_facts import SIDES
from openings.schedules import Change, DifferenceLine, Values

_CANNOT = "cannot"

MOST_LISTED = 10_000
"""So many openings stand in each list; `counts` count all, and what is beyond them goes by its kind."""


def outcome_of(plan: SchedulePlan) -> dict[str, Any]:
    """Return what a plan says; `openings` are those it adds, `difference` is everything else.

    Each list has the first `lists_at_most`.
    """
    by_change: dict[str, list[DifferenceLine]] = {change: [] for change in (*Change, _CANNOT)}
    for line in plan.lines:
        by_change[_CANNOT if line.hindrance else line.change].append(line)
    counts = {name: len(lines) for name, lines in by_change.items()}
    listed = {name: [_line(line) for line in lines[:MOST_LISTED]] for name, lines in by_change.items()}
    return {
        "sha256": plan.sha256,
        "fingerprint": plan.fingerprint,
        "is_revision": plan.has_openings,
        "can_be_taken": not plan.faults and not plan.read.questions,
        "columns": plan.columns,
        "notes": list(plan.notes),
        "new_details": list(plan.new_details),
        "tables": list(plan.read.tables),
        "proposal": list(plan.read.proposal),
        "questions": list(plan.read.questions),
        "mapping": plan.read.layout.as_json(),
        "faults": list(plan.faults),
        "weights_in_doubt": list(plan.doubts),
        "wrong_lines": list(plan.read.wrong_lines),
        "counts": counts | {"added": len(plan.openings), "unchanged": len(plan.unchanged)},
        "openings_count": len(plan.openings),
        "lists_at_most": MOST_LISTED,
        "openings": [_opening(one) for one in plan.openings[:MOST_LISTED]],
        "difference": {
            **{name: listed[name] for name in (Change.CHANGED, Change.RESTORED, Change.REMOVED, _CANNOT)},
            "unchanged": list(plan.unchanged[:MOST_LISTED]),
            "by_hand": list(plan.by_hand[:MOST_LISTED]),
        },
    }


def _opening(planned: PlannedOpening) -> dict[str, Any]:
    row = planned.row
    facts: OpeningFacts = planned.facts
    return {
        "row": row.row,
        "mark": planned.mark,
        **{side: getattr(facts, side) for side in SIDES},
        "operation": row.operation,
        "floor": row.floor,
        "detail": planned.detail,
        "remarks": row.remarks,
    }


def _line(line: DifferenceLine) -> dict[str, Any]:
    return {
        "change": line.change,
        "mark": line.mark,
        "schedule_mark": line.schedule_mark,
        "row": line.row,
        "sheet": line.sheet,
        "opening": line.opening_id,
        "old": _shown(line.old),
        "new": _shown(line.new),
        "hindrance": line.hindrance,
        "follows": line.follows,
    }


def _shown(values: Values) -> dict[str, Any]:
    return {name: list(value) if isinstance(value, tuple) else value for name, value in values.items()}
