"""Trying on the crews' days what somebody is about to do: the verb itself, taken back at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from jobs import transaction
from materials.calc.caution import Caution
from materials.queries import cautions_given
from openings.models import Assignment
from openings.queries import carried_on, what_follows

Verb = Callable[[], list[Assignment]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """What giving openings to a crew day would do.

    Args:
        given: the assignments that would be; they have no id that lasts.
        breaks: in words, what it upsets.
        cautions: what to be careful about with those openings on that day, each once.
    """

    given: Sequence[Assignment]
    breaks: tuple[str, ...]
    cautions: tuple[Caution, ...]


@transaction.atomic
def preview(verb: Verb) -> Preview:
    """Return what a verb would do that assigns or moves openings; nothing of it stays.

    Raises:
        CallerError: what the verb raises, so a preview refuses what the act would.
    """
    try:
        given = verb()
        cautions = [caution for of_one in cautions_given(given).values() for caution in of_one]
        return Preview(
            given=given,
            breaks=(*what_follows(given), *carried_on(given)),
            cautions=tuple(dict.fromkeys(cautions)),
        )
    finally:
        transaction.take_back()
