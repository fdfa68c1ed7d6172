"""One installation detail with its steps and what water does on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.db.models import Count, Q

from jobs.calc.sentence import Sentence
from jobs.errors import NotFound
from openings.calc.advice import Advice, Answer
from openings.calc.facts import DetailFacts
from openings.calc.geometry import is_flashed_here
from openings.calc.lay_order import Step, steps_for
from openings.calc.next_trade import left_for_next_trade
from openings.calc.ranges import detail_ranges
from openings.calc.setting_advice import bead_advice_of_detail
from openings.calc.step_code import StepCode
from openings.calc.water.drawing import Picture, face_of
from openings.calc.water.of_detail import layers_of, reference_opening, verdict_of
from openings.calc.water.section import Section, sections_of
from openings.calc.water.verdict import Fault, Verdict
from openings.calc.ways import Way, ways_of
from openings.models import InstallationDetail, Opening

MOST_TO_COPY = 300
"""So many details are offered to be copied, the newest (our choice: a list that is still read)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DetailSheet:
    """What the page of a detail shows, in its own order or in one that is tried.

    Args:
        faults: each with the title of the step that makes it; empty where others lay it.
        face, sections: the wall drawn; none where it cannot be judged.
        worth_a_look: figures outside their usual range, and a bead that may miss the wall.
        tried: the order that is tried; empty where it is the detail's own.
    """

    detail: InstallationDetail
    method: str
    steps: tuple[Step, ...]
    verdict: Verdict
    faults: tuple[tuple[Fault, str], ...]
    face: Picture | None
    sections: tuple[Section, ...]
    tried: tuple[StepCode, ...]
    openings_count: int
    worth_a_look: tuple[Advice, ...]
    ways: tuple[Way, ...]
    next_trade: tuple[Sentence, ...]


def detail_of(detail_id: int) -> InstallationDetail:
    """Return a detail with its job and who accepted a leak of it. One query.

    Raises:
        NotFound: there is no such detail.
    """
    detail = InstallationDetail.objects.select_related("job", "leak_accepted_by").filter(pk=detail_id).first()
    if detail is None:
        raise NotFound(f"there is no installation detail {detail_id}")
    return detail


def details_of_job(job_id: int) -> list[InstallationDetail]:
    """Return the details of a job by name, each with `openings_count` of those that count. One query."""
    having = Count("openings", filter=Q(openings__is_void=False))
    return list(InstallationDetail.objects.filter(job=job_id).annotate(openings_count=having).order_by("name"))


def details_to_copy() -> list[InstallationDetail]:
    """Return the newest details of all jobs, their jobs joined, those of a job together. One query."""
    newest = InstallationDetail.objects.select_related("job").order_by("-pk")[:MOST_TO_COPY]
    return sorted(newest, key=lambda detail: (detail.job.code, detail.name))


def openings_having(detail_id: int) -> int:
    """Return how many openings that count have a detail. One query."""
    return Opening.objects.not_void().filter(detail=detail_id).count()


def detail_sheet(detail_id: int, *, tried: Sequence[StepCode] = ()) -> DetailSheet:
    """Return a detail with its verdict, on an opening of usual size. Two queries.

    Args:
        tried: its steps in an order that is tried.

    Raises:
        NotFound: there is no such detail.
    """
    detail = detail_of(detail_id)
    facts = detail.as_facts()
    codes = tuple(step.code for step in steps_for(facts))
    is_tried = bool(tried) and tuple(tried) != codes
    if is_tried:
        facts = replace(facts, own_order=tuple(tried))
    steps, verdict = steps_for(facts), verdict_of(facts)
    face, sections = _drawn(facts, steps, verdict)
    titles = {step.code.value: str(step.title) for step in steps}
    return DetailSheet(
        detail=detail,
        method=facts.method,
        steps=steps,
        verdict=verdict,
        faults=tuple((fault, titles.get(fault.step, "")) for fault in verdict.faults),
        face=face,
        sections=sections,
        tried=tuple(tried) if is_tried else (),
        openings_count=openings_having(detail.pk),
        worth_a_look=_worth_a_look(facts),
        ways=ways_of(None, facts),
        next_trade=left_for_next_trade(facts),
    )


def _drawn(facts: DetailFacts, steps: Sequence[Step], verdict: Verdict) -> tuple[Picture | None, tuple[Section, ...]]:
    if not is_flashed_here(facts):
        return None, ()
    wall = layers_of(reference_opening(facts), facts)
    numbers = {step.code.value: number for number, step in enumerate(steps, start=1)}
    return face_of(wall, verdict, numbers), sections_of(wall, verdict, numbers)


def _worth_a_look(facts: DetailFacts) -> tuple[Advice, ...]:
    bead = bead_advice_of_detail(facts)
    return (*([bead] if bead and bead.answer is not Answer.MET else []), *detail_ranges(facts))
