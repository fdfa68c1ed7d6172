"""Whose crew it is."""

from __future__ import annotations

from jobs.errors import NotAllowed
from jobs.models import Person


def require_crew(person: Person, crew_id: int) -> None:
    """Let office and owner pass, and a crew lead for the crew that is theirs.

    Raises:
        NotAllowed: a crew lead of another crew asked.
    """
    if person.role == Person.Role.CREW_LEAD and person.crew_id != crew_id:
        raise NotAllowed("this belongs to another crew; a crew lead records for their own crew only")
