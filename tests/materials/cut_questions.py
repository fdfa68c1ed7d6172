"""Questions for a cutting plan, and what every answer must keep to."""

from __future__ import annotations

import json
from collections import Counter
from decimal import Decimal
from pathlib import Path
from typing import Any

SILLS = {
    "roll_lengths_in": [900],
    "remnants_in": [310.5],
    "trim_in": 0.25,
    "pieces": [{"length_in": 54, "count": 2, "label": "W3-01 sill"}],
    "time_limit_s": 5,
}
ANSWERED = {
    "rolls", "rolls_new", "rolls_lower_bound", "gap", "cost", "cost_lower_bound", "proven", "ended_by_time_limit",
    "verdict", "seconds",
}  # fmt: skip


def asked(*pieces: tuple[Any, int], rolls: list[Any], **more: Any) -> dict[str, Any]:
    """Return the question for pieces of (length, count), labelled by their length."""
    rows = [{"length_in": length, "count": count, "label": f"strip {length}"} for length, count in pieces]
    return {"roll_lengths_in": rolls, "pieces": rows, **more}


def figure(number: Any) -> Decimal:
    return Decimal(str(number))


def assert_sound(said: dict[str, Any], question: dict[str, Any]) -> None:
    """Check every piece once, lengths that exist, nothing overdrawn, trims counted, and the figures of the answer.

    Source:
        k cuts take their lengths and k - 1 trims; a k-th trim is lost where the last does not end the roll: arithmetic.
    """
    wanted = Counter()
    for row in question["pieces"]:
        wanted[figure(row["length_in"])] += row.get("count", 1)
    cuts = [cut for roll in said["rolls"] for cut in roll["cuts"]]
    assert Counter(figure(cut["length_in"]) for cut in cuts) == wanted
    trim = figure(question.get("trim_in", 0))
    for roll in said["rolls"]:
        net = sum(figure(cut["length_in"]) for cut in roll["cuts"]) + trim * (len(roll["cuts"]) - 1)
        whole = figure(roll["length_in"])
        assert roll["cuts"]
        assert net <= whole
        assert figure(roll["left_in"]) == max(whole - net - trim, 0)
    used = Counter(figure(roll["length_in"]) for roll in said["rolls"] if roll["remnant"])
    assert used <= Counter(map(figure, question.get("remnants_in", [])))
    new = [figure(roll["length_in"]) for roll in said["rolls"] if not roll["remnant"]]
    assert set(new) <= set(map(figure, question["roll_lengths_in"]))
    assert said["rolls_new"] == len(new) == said["rolls_lower_bound"] + said["gap"]


def written(folder: Path, question: Any) -> Path:
    """Return a file that holds the question."""
    path = folder / "cuts.json"
    path.write_text(question if isinstance(question, str) else json.dumps(question))
    return path
