"""Which installation detail a row of a schedule means."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.errors import Fault
from jobs.models import Job
from openings.calc.facts import DetailFacts
from openings.calc.starting_details import STARTING_DETAILS, folded, starting_detail
from openings.calc.water.said import faults_of, leak_of
from openings.errors import BadSchedule
from openings.models import InstallationDetail
from openings.schedules import ScheduleRead, ScheduleRow


def labelled(field: str, row: ScheduleRow) -> str:
    """Return the field of a fault, with the sheet before it where more than one was read."""
    return f"{row.sheet} › {field}" if row.sheet else field


class Details:
    """Finds the detail that a row means: the job's own by name, then a starting point, which is noted as taken."""

    def __init__(self, job: Job, details: Iterable[InstallationDetail], *, default: str) -> None:
        own = list(details)
        self._job = job
        self._known = {folded(d.name): (d.name, d.as_facts()) for d in own}
        self._accepted = {d.name for d in own if d.is_leak_accepted}
        self._default = default or next((d.name for d in own if d.is_default or len(own) == 1), "")
        self.taken: list[str] = []
        self.leaking: list[Fault] = []

    def facts_of(self, name: str) -> DetailFacts:
        return self._known[folded(name)][1]

    def find(self, row: ScheduleRow, read: ScheduleRead) -> tuple[str, DetailFacts]:
        wanted = row.detail or self._default
        found = self._known.get(folded(wanted))
        if found is None:
            found = starting_detail(wanted)
            if found is None:
                raise BadSchedule("unknown detail", faults=[self._fault(wanted, row, read)])
            self._known[folded(wanted)] = found
            self.taken.append(found[0])
        return found

    def require_shedding(self, name: str, row: ScheduleRow, read: ScheduleRead) -> None:
        """Refuse a detail that a row gives to an opening.

        Raises:
            BadSchedule: it lets water in, and nobody has accepted that; the fault is noted in `leaking` too.
        """
        faults = () if name in self._accepted else faults_of(self.facts_of(name))
        if faults:
            sentence = leak_of(name, faults)
            fault = Fault(field=self._field(row, read), row=row.row, value=name, detail=sentence)
            self.leaking.append(fault)
            raise BadSchedule(sentence, faults=[fault])

    def _field(self, row: ScheduleRow, read: ScheduleRead) -> str:
        column = read.columns.get("detail")
        return labelled(column.heading if column else "detail", row)

    def _fault(self, wanted: str, row: ScheduleRow, read: ScheduleRead) -> Fault:
        known = sorted({name for name, _ in self._known.values()} | set(STARTING_DETAILS))
        problem = "no such installation detail" if wanted else "no installation detail is named or set as default"
        return Fault(
            field=self._field(row, read),
            row=row.row,
            value=wanted,
            detail=f"{problem}; {self._job.code} can use: {'; '.join(known)}",
        )
