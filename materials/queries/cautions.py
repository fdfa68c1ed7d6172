"""What a crew is warned of on its pull sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from jobs.models import Job, SiteForecast
from materials.calc.compatibility import Verdict, judged
from materials.calc.product import ProductFacts, temperature_advice
from materials.calc.touching import touching
from materials.queries import Choices, evidence_on, known_pairs
from openings.calc.advice import Answer
from openings.calc.code_advice import LEAD_PAINT_BEFORE
from openings.models import Assignment
from openings.queries import Computable


def cautions_for(
    items: Sequence[Computable],
    held: Sequence[Assignment],
    *,
    on: date,
    choices: Choices,
    products: Iterable[ProductFacts],
) -> tuple[str, ...]:
    """Return the cautions of a crew's day. Three queries."""
    jobs = sorted({item.opening.job for item in items}, key=lambda job: job.code)
    used = list({product.code: product for product in products}.values())
    return (
        *_lead(jobs),
        *(f"{a.opening.job.code} {a.opening.mark} is on hold and left out of this sheet." for a in held),
        *dict.fromkeys(_touching(items, choices, used)),
        *_weather(jobs, on, used),
    )


def _lead(jobs: Iterable[Job]) -> Iterator[str]:
    for job in jobs:
        if job.built_year and job.built_year < LEAD_PAINT_BEFORE:
            yield (
                f"{job.code} was built in {job.built_year}: presume lead paint. Work lead-safe by certified people, as "
                "40 CFR 745 subpart E and local rules ask."
            )


def _touching(items: Iterable[Computable], choices: Choices, used: Iterable[ProductFacts]) -> Iterator[str]:
    """Yield the products that must not touch, each pair once however many openings have it."""
    known, evidence = known_pairs(), evidence_on({product.code for product in used})
    details = {item.opening.detail_id: item for item in items}
    for item in details.values():
        for one in judged(touching(item.detail), choices.finder(item), known=known, evidence=evidence):
            if one.verdict is Verdict.NOT_COMPATIBLE and one.product and one.neighbor:
                yield (
                    f"{one.product.name} must not touch {one.neighbor.name} ({one.contact.where}): {one.source}. "
                    "Do not set these openings before the office has settled it."
                )


def _weather(jobs: Iterable[Job], on: date, used: Sequence[ProductFacts]) -> Iterator[str]:
    """Yield the products for which the day is forecast too cold or too hot, wholly or for some of its hours."""
    for forecast in SiteForecast.objects.filter(job__in=list(jobs), on=on).select_related("job"):
        for product in used:
            advice = temperature_advice(product, low_f=forecast.low_f, high_f=forecast.high_f)
            if advice.answer in (Answer.NOT_MET, Answer.TAKE_CARE):
                yield f"{forecast.job.code}: {advice.reason}."
