"""How an opening looks by answers of a detail that are typed and not saved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from openings.calc.elevation import Elevation, elevation_of
from openings.calc.facts import DetailFacts
from openings.calc.water.of_detail import reference_opening
from openings.calc.water.said import faults_of
from openings.errors import BadDetail, BadLength
from openings.models import InstallationDetail
from openings.models.detail import facts_of


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnDetail:
    """A detail on an opening of usual size.

    Args:
        faults: what lets water in, each with what would help; the detail is refused for openings by these.
        wrong: why it cannot be drawn; there is no drawing then.
    """

    detail: DetailFacts | None = None
    elevation: Elevation | None = None
    faults: tuple[str, ...] = ()
    wrong: str = ""


def draw_detail(answers: Mapping[str, Any], *, of: InstallationDetail) -> DrawnDetail:
    """Return the drawing of a detail with these answers, and as it is stored where they say nothing."""
    try:
        facts = facts_of(answers, start=of.as_facts())
        elevation = elevation_of(reference_opening(facts), facts)
        faults = tuple(f"{fault.what} {fault.mend}" for fault in faults_of(facts))
    except (BadDetail, BadLength) as error:
        return DrawnDetail(wrong=error.detail)
    return DrawnDetail(detail=facts, elevation=elevation, faults=faults)
