"""Adding crews, and whose crew it is."""

from __future__ import annotations

from typing import Unpack

from jobs import transaction
from jobs.errors import NotAllowed
from jobs.models import Crew, Person
from jobs.models.values import CrewValues
from jobs.queries import company
from jobs.services.row import add


@transaction.atomic
def add_crew(**values: Unpack[CrewValues]) -> Crew:
    """Add a crew; its shift is the company's where none is given.

    Raises:
        ValidationError: a value or a constraint is not kept, such as a truck that another crew has.
    """
    usual: CrewValues = {"shift_h": company().default_shift_h}
    return add(Crew(**(usual | values)))


def require_crew(person: Person, crew_id: int) -> None:
    """Let office and owner pass, and a crew lead for the crew that is theirs.

    Raises:
        NotAllowed: a crew lead of another crew asked.
    """
    if person.role == Person.Role.CREW_LEAD and person.crew_id != crew_id:
        raise NotAllowed("this belongs to another crew; a crew lead records for their own crew only")
