"""What is said of a detail that lets water in, where it was to be given to an opening."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.errors import Fault as SaidFault
from openings.calc.facts import DetailFacts
from openings.calc.water.of_detail import verdict_of
from openings.calc.water.verdict import Fault

INSTEAD = (
    "Change its answers or its order, or let the scheduler or the owner accept the leak on the page of the detail, "
    "with a reason"
)
OF_A_CHANGE = (
    "So it stays as it was, for openings have it. Where it is wanted all the same, add another detail with these "
    "answers, and let the scheduler or the owner accept the leak on the page of that one, with a reason"
)


def faults_of(detail: DetailFacts) -> tuple[Fault, ...]:
    """Return the faults for which a detail is refused; none where it sheds water or cannot be judged."""
    return verdict_of(detail).refusing


def leak_of(name: str, faults: Iterable[Fault], *, instead: str = INSTEAD) -> str:
    """Return what is wrong with a detail, what would mend it, and what can be done instead."""
    said = " ".join(f"{fault.what} {fault.mend}" for fault in faults)
    return f"{name} lets water into the wall. {said} {instead}"


def leak_of_change(name: str, faults: Iterable[Fault]) -> str:
    """Return the same of a change to a detail that openings have."""
    return leak_of(f"{name}, so changed,", faults, instead=OF_A_CHANGE)


def leak_faults(faults: Iterable[Fault], *, field: str, value: str) -> list[SaidFault]:
    """Return each fault of a detail as what is wrong with a field."""
    return [SaidFault(field=field, value=value, detail=f"{fault.what} {fault.mend}") for fault in faults]
