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


def faults_of(detail: DetailFacts) -> tuple[Fault, ...]:
    """Return the faults for which a detail is refused; none where it sheds water or cannot be judged."""
    return verdict_of(detail).refusing


def leak_of(name: str, faults: Iterable[Fault]) -> str:
    """Return in one sentence what is wrong with a detail and what would mend it."""
    said = " ".join(f"{fault.what} {fault.mend}" for fault in faults)
    return f"{name} lets water into the wall. {said} {INSTEAD}"


def leak_faults(faults: Iterable[Fault], *, field: str, value: str) -> list[SaidFault]:
    """Return each fault of a detail as what is wrong with a field."""
    return [SaidFault(field=field, value=value, detail=f"{fault.what} {fault.mend}") for fault in faults]
