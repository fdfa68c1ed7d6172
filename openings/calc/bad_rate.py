"""How rates, and whatever else hours and days are calculated by, are refused."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.errors import Fault
from openings.errors import BadRate


def fault(field: str, value: object, sentence: str) -> Fault:
    """Return one thing wrong, under the field that is to be changed."""
    return Fault(field=field, value=str(value), detail=sentence)


def refuse(faults: Sequence[Fault]) -> None:
    """Raise an error that names the faults; without any, do nothing.

    Raises:
        BadRate: its sentence is that of all faults together.
    """
    if faults:
        raise BadRate("; ".join(fault.detail for fault in faults), faults=faults)
