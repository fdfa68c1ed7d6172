"""What a crew, the warehouse and the office are warned of, day by day."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from jobs.calc.say import zone_name
from jobs.calc.weather import WeatherLimits
from jobs.models import Crew, CrewDay, SiteForecast
from jobs.queries import weather_limits
from materials.calc.caution import (
    Caution,
    ExpiredLot,
    Forecast,
    Named,
    draw_cautions,
    forbidden_cautions,
    hold_caution,
    lead_caution,
    lift_cautions,
    lot_caution,
    temperature_cautions,
    time_zone_caution,
    untested_cautions,
    weather_cautions,
)
from materials.calc.compatibility import Evidence, Finding, Judged, Pair, judged
from materials.calc.product import ProductFacts
from materials.calc.supply import Supplied
from materials.calc.touching import touching
from materials.models import Lot, Place
from materials.queries.compatibility import evidence_on, known_pairs
from materials.queries.draw import Choices
from materials.queries.pull_sheet import is_stopped, ready_for
from materials.queries.stock import places_of_lots
from openings.calc.lifting_equation import Assessment
from openings.calc.unit_lift import lift_of_unit
from openings.models import Assignment, Opening
from openings.queries import Computable, computable


@dataclass(frozen=True, slots=True, kw_only=True)
class DayOfWork:
    """A crew's day as far as cautions ask: what is set, what is held back, and what each opening draws.

    Args:
        drawn: of each of `items`, in their order.
    """

    crew_day: CrewDay
    items: tuple[Computable, ...]
    held: tuple[Assignment, ...]
    drawn: tuple[Supplied, ...]

    @property
    def products(self) -> list[ProductFacts]:
        """The products in the order of first use, each once."""
        lines = (line for drawn in self.drawn for line in drawn.lines)
        return list({line.product.code: line.product for line in lines if line.product}.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class _Known:
    """What was looked up for all days at once."""

    pairs: Mapping[Pair, Finding]
    evidence: Sequence[Evidence]
    limits: WeatherLimits
    forecasts: Sequence[Forecast]
    lots: Sequence[tuple[ExpiredLot, Sequence[Place]]]


def cautions_on(crew_days: Collection[int]) -> dict[int, tuple[Caution, ...]]:
    """Return the cautions of crew days as they stand now, by day. Eleven queries at most, however many openings."""
    if not crew_days:
        return {}
    days = CrewDay.objects.filter(pk__in=crew_days).select_related("crew")
    listed, held = ready_for(crew_days)
    ready = [assignment for assignment in listed if not is_stopped(assignment)]
    items = list(computable(assignment.opening for assignment in ready))
    choices = Choices({item.opening.detail_id for item in items})
    alike: dict[tuple[object, int], Supplied] = {}
    of_day: dict[int, list[tuple[Computable, Supplied]]] = {}
    for assignment, item in zip(ready, items, strict=True):
        kind = item.facts, item.opening.detail_id
        if kind not in alike:
            alike[kind] = choices.supply(item)
        of_day.setdefault(assignment.crew_day_id, []).append((item, alike[kind]))
    return cautions_of(
        [
            DayOfWork(
                crew_day=crew_day,
                items=tuple(item for item, _ in of_day.get(crew_day.pk, ())),
                held=tuple(assignment for assignment in held if assignment.crew_day_id == crew_day.pk),
                drawn=tuple(drawn for _, drawn in of_day.get(crew_day.pk, ())),
            )
            for crew_day in days
        ],
        choices,
    )


def caution_board(*, on: date, crew: Crew | None = None) -> list[dict[str, Any]]:
    """Return the days of crews on a date with their cautions, or of one crew. Twelve queries at most."""
    days = CrewDay.objects.filter(on=on, **{"crew": crew} if crew else {}).select_related("crew").order_by("crew__name")
    cautions = cautions_on([day.pk for day in days])
    return [
        {
            "crew_day": day.pk,
            "crew": day.crew_id,
            "crew_name": day.crew.name,
            "on": day.on,
            "cautions": cautions[day.pk],
        }
        for day in days
    ]


def cautions_given(assignments: Sequence[Assignment]) -> dict[int, tuple[Caution, ...]]:
    """Return by assignment the cautions that concern its opening, by itself or with its job. Twelve queries at most."""
    by_day = cautions_on({assignment.crew_day_id for assignment in assignments})
    openings = {assignment.opening_id for assignment in assignments}
    jobs = dict(Opening.objects.filter(pk__in=openings).values_list("pk", "job__code"))
    return {
        assignment.pk: tuple(
            caution
            for caution in by_day[assignment.crew_day_id]
            if caution.concerns(assignment.opening_id, jobs[assignment.opening_id])
        )
        for assignment in assignments
    }


def cautions_of(days: Sequence[DayOfWork], choices: Choices) -> dict[int, tuple[Caution, ...]]:
    """Return the cautions by crew day. Eight queries at most, however many days and openings."""
    products = {product.code: product for day in days for product in day.products}
    jobs = {item.opening.job_id for day in days for item in day.items}
    known = _Known(
        pairs=known_pairs(),
        evidence=evidence_on(products),
        limits=weather_limits(),
        forecasts=_forecasts(jobs, {day.crew_day.on for day in days}),
        lots=_expired_lots(products, before=max((day.crew_day.on for day in days), default=date.min)),
    )
    return {day.crew_day.pk: tuple(_cautions(day, choices, known)) for day in days}


def _cautions(day: DayOfWork, choices: Choices, known: _Known) -> Iterator[Caution]:
    """Yield the cautions of one day, those first by which issued sheets were compared before there were others."""
    jobs = sorted({item.opening.job for item in day.items}, key=lambda job: job.code)
    codes, on = {job.code for job in jobs}, day.crew_day.on
    forecasts = [one for one in known.forecasts if one.on == on and one.job in codes]
    contacts = list(_contacts(day, choices, known))
    for job in jobs:
        yield from lead_caution(job.code, job.built_year)
    yield from (hold_caution(_named(assignment.opening)) for assignment in day.held)
    yield from forbidden_cautions(contacts)
    for forecast in forecasts:
        yield from temperature_cautions(forecast, day.products)
    yield from lift_cautions(_lifts(day.items))
    yield from draw_cautions(
        (_named(item.opening), fall) for item, drawn in zip(day.items, day.drawn, strict=True) for fall in drawn.faults
    )
    yield from untested_cautions(contacts)
    for forecast in forecasts:
        yield from weather_cautions(forecast, known.limits)
    yield from _lots(day, known)
    yield from time_zone_caution({job.code: zone_name(job.time_zone) for job in jobs})


def _named(opening: Opening) -> Named:
    return Named(opening.pk, opening.job.code, opening.mark)


def _lifts(items: Iterable[Computable]) -> Iterator[tuple[Named, Assessment]]:
    for item in items:
        if item.facts.sill_above_floor_in is None:
            continue
        equation = lift_of_unit(item.facts, mounting=item.detail.mounting).equation
        if equation is not None:
            yield _named(item.opening), equation


def _contacts(day: DayOfWork, choices: Choices, known: _Known) -> Iterator[tuple[Judged, list[Named]]]:
    """Yield what touches in each detail of the day, with the openings that have the detail."""
    of_detail: dict[int, list[Computable]] = {}
    for item in day.items:
        of_detail.setdefault(item.opening.detail_id, []).append(item)
    for items in of_detail.values():
        find = choices.finder(items[0])
        named = [_named(item.opening) for item in items]
        for one in judged(touching(items[0].detail), find, known=known.pairs, evidence=known.evidence):
            yield one, named


def _lots(day: DayOfWork, known: _Known) -> Iterator[Caution]:
    """Yield the expired lots within the crew's reach, of products that the day draws."""
    reach = {None, day.crew_day.crew_id}
    for lot, places in known.lots:
        if lot.expired_on >= day.crew_day.on:
            continue
        openings = [
            _named(item.opening)
            for item, drawn in zip(day.items, day.drawn, strict=True)
            if any(line.product and line.product.code == lot.product.code for line in drawn.lines)
        ]
        near = [place.name for place in places if place.crew_id in reach]
        if openings and near:
            yield lot_caution(lot, near, openings, on=day.crew_day.on)


def _forecasts(jobs: Collection[int], days: Collection[date]) -> list[Forecast]:
    """Return the forecasts of jobs on days. One query."""
    rows = SiteForecast.objects.filter(job__in=jobs, on__in=days).select_related("job")
    return [
        Forecast(
            job=row.job.code,
            on=row.on,
            low_f=row.low_f,
            high_f=row.high_f,
            wind_mph=row.wind_mph,
            rain_in=row.rain_in,
        )
        for row in rows
    ]


def _expired_lots(products: Mapping[str, ProductFacts], *, before: date) -> list[tuple[ExpiredLot, list[Place]]]:
    """Return the lots of products that expire before a date, and where packages of them lie. Four queries at most."""
    lots = list(Lot.objects.filter(product__code__in=products, expires_on__lt=before).select_related("product"))
    places = places_of_lots(lot.pk for lot in lots) if lots else {}
    return [
        (ExpiredLot(product=products[lot.product.code], code=lot.code, expired_on=lot.expires_on), places[lot.pk])
        for lot in lots
        if lot.expires_on and lot.pk in places
    ]
