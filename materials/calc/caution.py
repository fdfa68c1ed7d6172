"""What a crew, the warehouse and the office are warned of on one day: each with its openings and its remedy."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple

from jobs.calc.say import day
from jobs.calc.weather import WeatherLimits
from materials.calc.compatibility import Judged, Verdict
from materials.calc.product import ProductFacts, temperature_advice
from materials.calc.supply import Shortfall
from materials.errors import (
    LapTooLong,
    MeasureMismatch,
    MissingCoverage,
    MissingProduct,
    NotFurnished,
    OutOfRange,
    StripWiderThanRoll,
)
from openings.calc.advice import Answer
from openings.calc.code_advice import LEAD_PAINT_BEFORE
from openings.calc.figures import plain
from openings.calc.lifting_equation import Assessment


class Kind(StrEnum):
    """What a caution is about."""

    LEAD_PAINT = "lead paint"
    ON_HOLD = "on hold"
    DRAW = "draw"
    TOUCHING = "materials that touch"
    TEMPERATURE = "temperature"
    WIND = "wind"
    RAIN = "rain"
    LOT = "expired lot"
    LIFT = "lift"
    TIME_ZONES = "time zones"


class Named(NamedTuple):
    """One opening as a caution names it."""

    opening_id: int
    job: str
    mark: str

    def __str__(self) -> str:
        return f"{self.job} {self.mark}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """What is wrong, where, and what to do about it.

    Args:
        jobs: by code, those that it concerns.
        openings: those that it concerns; empty where it concerns all of the jobs.
        key: by what a sheet is compared: the same key is the same caution, even where its figures have moved on. It is
            made of figures, ids and codes, never of the words, so that to word it otherwise revises no sheet; empty
            where it revises no sheet that is issued.
        short: the same in a line, where `wrong` lists more than a phone shows at a glance; empty where it does not.
    """

    kind: Kind
    jobs: tuple[str, ...]
    openings: tuple[Named, ...] = ()
    wrong: str
    remedy: str
    key: str
    short: str = ""

    @property
    def text(self) -> str:
        """The caution as it is read."""
        return f"{self.wrong} {self.remedy}"

    def concerns(self, opening_id: int, job: str) -> bool:
        """Return whether it is about this opening, by itself or with its job."""
        if self.openings:
            return any(one.opening_id == opening_id for one in self.openings)
        return job in self.jobs


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """The weather that is expected on a job."""

    job: str
    on: date
    low_f: Decimal
    high_f: Decimal
    wind_mph: Decimal
    rain_in: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpiredLot:
    """A lot that must not be used any more."""

    product: ProductFacts
    code: str
    expired_on: date


REMEDIES: Mapping[type[NotFurnished], str] = {
    MissingProduct: "Nothing is staged for it: have the office choose a product before the truck is loaded.",
    MeasureMismatch: "Nothing is staged for it: have the office choose another product before the truck is loaded.",
    StripWiderThanRoll: "Do not make do with it: have the office choose a wider roll or change the detail first.",
    OutOfRange: "Do not make do with it: have the office choose a product for this size, and load that.",
    LapTooLong: "Have the office choose a longer roll, or a shorter lap for the detail, before it is cut.",
    MissingCoverage: "No primer is staged for it: have the office enter the coverage the maker gives, and load primer.",
}

ASK_MAKERS = "Test them together first or ask both makers in writing, and record the answer as evidence."
SETTLE_FIRST = "Do not set these openings until the office has settled it."


def listed(openings: Iterable[Named]) -> str:
    """Return openings job by job.

    >>> listed([Named(1, "heron-house", "W1"), Named(2, "heron-house", "W2"), Named(3, "mill-lane", "M1")])
    'heron-house W1, W2; mill-lane M1'
    """
    by_job: dict[str, list[str]] = {}
    for one in openings:
        by_job.setdefault(one.job, []).append(one.mark)
    return "; ".join(f"{job} {', '.join(dict.fromkeys(marks))}" for job, marks in by_job.items())


def lead_caution(job: str, built_year: int | None) -> Iterator[Caution]:
    """Yield the caution of a building in which lead paint is presumed.

    Source:
        40 CFR part 745 subpart E: housing built before 1978.
    """
    if built_year and built_year < LEAD_PAINT_BEFORE:
        wrong = f"{job} was built in {built_year}: presume lead paint."
        remedy = "Work lead-safe by certified people, as 40 CFR 745 subpart E and local rules ask."
        yield Caution(
            kind=Kind.LEAD_PAINT, jobs=(job,), wrong=wrong, remedy=remedy, key=_key(Kind.LEAD_PAINT, job, built_year)
        )


def time_zone_caution(zones: Mapping[str, str]) -> Iterator[Caution]:
    """Yield the caution of a day whose jobs do not keep the same time.

    Args:
        zones: by job, in the order of their codes, the name of its time zone as people say it.
    """
    if len(set(zones.values())) > 1:
        kept = "; ".join(f"{job}: {zone}" for job, zone in zones.items())
        wrong = f"The jobs of this day are in different time zones ({kept})."
        remedy = f"Times on this sheet are those of {next(iter(zones))}: agree on every start by the clock of the site."
        key = _key(Kind.TIME_ZONES, *zones, *zones.values())
        yield Caution(kind=Kind.TIME_ZONES, jobs=tuple(zones), wrong=wrong, remedy=remedy, key=key)


def hold_caution(opening: Named) -> Caution:
    """Return the caution of an opening that is assigned and not ready."""
    wrong = f"{opening} is on hold and left out of this sheet."
    remedy = "Set it only once its hold is released."
    return _caution(Kind.ON_HOLD, [opening], wrong, remedy)


def draw_cautions(faults: Iterable[tuple[Named, Shortfall]]) -> Iterator[Caution]:
    """Yield what the products of a draw do not do, each once with all openings that it concerns."""
    openings: dict[Shortfall, list[Named]] = {}
    for opening, fall in faults:
        openings.setdefault(fall, []).append(opening)
    for fall, named in openings.items():
        wrong = f"{listed(named)}: {fall.fault.detail}."
        yield _caution(Kind.DRAW, named, wrong, REMEDIES[fall.error], fall.error.code, fall.part, fall.fault.value)


def forbidden_cautions(contacts: Iterable[tuple[Judged, Sequence[Named]]]) -> Iterator[Caution]:
    """Yield the products that must not touch, each pair once for each place where they do."""
    openings: dict[str, list[Named]] = {}
    keys: dict[str, str] = {}
    for one, named in contacts:
        if one.verdict is Verdict.NOT_COMPATIBLE and one.product and one.neighbor:
            sentence = (
                f"{one.product.name} must not touch {one.neighbor.name} ({one.contact.where}): {one.source}. "
                f"{SETTLE_FIRST}"
            )
            openings.setdefault(sentence, []).extend(named)
            parts = one.contact.part, one.contact.neighbor
            keys.setdefault(sentence, _key(Kind.TOUCHING, one.product.code, one.neighbor.code, *parts))
    for sentence, named in openings.items():
        wrong = f"{listed(named)}: {sentence.removesuffix(SETTLE_FIRST).rstrip()}"
        yield replace(_caution(Kind.TOUCHING, named, wrong, SETTLE_FIRST), key=keys[sentence])


def untested_cautions(contacts: Iterable[tuple[Judged, Sequence[Named]]]) -> Iterator[Caution]:
    """Yield the products that touch and are not known to be compatible: each pair once, by the openings that have it.

    No issued sheet is revised for it: it changes only as somebody records what was found, and where that is bad
    `forbidden_cautions` says so.

    Source:
        Compatibility is tested, not assumed: AAMA 713.
    """
    places: dict[frozenset[str], dict[str, None]] = {}
    pairs: dict[frozenset[str], str] = {}
    openings: dict[frozenset[str], dict[Named, None]] = {}
    for one, named in contacts:
        if one.verdict is Verdict.TEST_FIRST and one.product and one.neighbor:
            pair = frozenset((one.product.code, one.neighbor.code))
            pairs.setdefault(pair, f"{one.product.name} and {one.neighbor.name}")
            places.setdefault(pair, {})[one.contact.where] = None
            openings.setdefault(pair, {}).update(dict.fromkeys(named))
    alike: dict[tuple[Named, ...], list[str]] = {}
    for pair, names in pairs.items():
        alike.setdefault(tuple(openings[pair]), []).append(f"{names} ({', '.join(places[pair])})")
    for touched, said in alike.items():
        wrong = f"{listed(touched)}: these touch and are not known to be compatible: {'; '.join(said)}."
        pairs_said = (
            f"{len(said)} pairs of materials that touch are" if len(said) > 1 else "two materials that touch are"
        )
        short = f"{listed(touched)}: {pairs_said} not known to be compatible."
        yield replace(_caution(Kind.TOUCHING, touched, wrong, ASK_MAKERS), key="", short=short)


def temperature_cautions(forecast: Forecast, products: Iterable[ProductFacts]) -> Iterator[Caution]:
    """Yield the products for which the day is forecast too cold or too hot, wholly or for some of its hours."""
    for product in products:
        advice = temperature_advice(product, low_f=forecast.low_f, high_f=forecast.high_f)
        if advice.answer in (Answer.NOT_MET, Answer.TAKE_CARE):
            wrong = f"{forecast.job}: {advice.reason}."
            only_then = "Apply it only in the hours that will do, and to dry, frost-free surfaces"
            never = "Do not apply it that day: move the day, or have the office choose another product"
            remedy = f"{never if advice.answer is Answer.NOT_MET else only_then}."
            limits = product.min_application_temp_f, product.max_application_temp_f
            key = _key(Kind.TEMPERATURE, forecast.job, product.code, forecast.low_f, forecast.high_f, *limits)
            yield Caution(kind=Kind.TEMPERATURE, jobs=(forecast.job,), wrong=wrong, remedy=remedy, key=key)


def weather_cautions(forecast: Forecast, limits: WeatherLimits) -> Iterator[Caution]:
    """Yield wind and rain above the shop's limits.

    A sheet is compared by which limit is passed, not by the figure: a forecast that moves on while it stays above
    needs no new sheet.
    """
    on_site = f"{forecast.job}, {day(forecast.on)}"
    if limits.is_too_windy(forecast.wind_mph):
        most = f"{plain(limits.most_wind_mph)} mph"
        yield Caution(
            kind=Kind.WIND,
            jobs=(forecast.job,),
            wrong=(
                f"{on_site}: wind of {plain(forecast.wind_mph)} mph is forecast, above the limit of {most} "
                f"({limits.wind_source})."
            ),
            remedy=(
                "Handle no unit and use no ladder or lift in it: move the day, or have the site's competent person "
                "decide before each lift."
            ),
            key=_key(Kind.WIND, forecast.job, limits.most_wind_mph),
        )
    if limits.is_too_wet(forecast.rain_in):
        most = f"{plain(limits.most_rain_in)} in"
        yield Caution(
            kind=Kind.RAIN,
            jobs=(forecast.job,),
            wrong=(
                f"{on_site}: {plain(forecast.rain_in)} in of rain is forecast, above the limit of {most} "
                f"({limits.rain_source})."
            ),
            remedy=(
                "Open no wall that cannot be closed dry, and lay strips, membranes and beads on dry surfaces only: use "
                "the dry hours, or move the day."
            ),
            key=_key(Kind.RAIN, forecast.job, limits.most_rain_in),
        )


def lot_caution(lot: ExpiredLot, places: Sequence[str], openings: Sequence[Named], *, on: date) -> Caution:
    """Return the caution of an expired lot of a product that openings draw.

    Args:
        places: where packages of it still lie, within the crew's reach.
        on: the crew's day.

    A sheet is compared by the lot, not by where it lies: loading a truck needs no new sheet.
    """
    wrong = (
        f"{listed(openings)}: lot {lot.code} of {lot.product.name}, now in {' and '.join(places)}, expired "
        f"{day(lot.expired_on, on)}."
    )
    remedy = "Do not load or use it: set it aside and take another lot."
    key = _key(Kind.LOT, lot.code, lot.product.code, lot.expired_on)
    return replace(_caution(Kind.LOT, openings, wrong, remedy), key=key)


def lift_cautions(lifts: Iterable[tuple[Named, Assessment]]) -> Iterator[Caution]:
    """Yield the lifts that lie beyond the lifting equation, those alike once."""
    openings: dict[str, list[Named]] = {}
    for opening, equation in lifts:
        if equation.needs_decision:
            openings.setdefault("; ".join(equation.limits), []).append(opening)
    for limits, named in openings.items():
        wrong = f"{listed(named)}: setting the unit is beyond what the lifting equation covers ({limits})."
        remedy = (
            "Let an aid carry it, or have the site's competent person decide, by name and before it is lifted, how and "
            "by how many."
        )
        yield _caution(Kind.LIFT, named, wrong, remedy)


def _caution(kind: Kind, openings: Iterable[Named], wrong: str, remedy: str, *what: object) -> Caution:
    """Return a caution that is told apart by its openings, and by `what` besides."""
    named = tuple(dict.fromkeys(openings))
    jobs = tuple(dict.fromkeys(one.job for one in named))
    key = _key(kind, *what, *(one.opening_id for one in named))
    return Caution(kind=kind, jobs=jobs, openings=named, wrong=wrong, remedy=remedy, key=key)


def _key(kind: Kind, *what: object) -> str:
    """Return what a caution is told apart by.

    >>> _key(Kind.WIND, "heron-house", Decimal("20.0"))
    'wind | heron-house | 20'
    """
    return " | ".join([kind, *(plain(one) if isinstance(one, Decimal) else str(one) for one in what)])
