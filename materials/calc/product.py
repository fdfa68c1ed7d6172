"""A product as the computations see it, and the conditions under which it may be used."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from jobs.calc.say import counted, day, field_name
from jobs.errors import Fault
from materials.calc.rolls import KEEP_IN
from materials.errors import BadProduct
from openings.calc.advice import Advice, Answer
from openings.calc.figures import plain
from openings.calc.terms import FastenerKind
from openings.calc.units import US, Units


class Measure(StrEnum):
    """What a product is drawn in."""

    LENGTH = "in"
    VOLUME = "cu in"
    COUNT = "each"

    @property
    def plainly(self) -> str:
        """What is counted, as people say it."""
        return {Measure.LENGTH: "inches", Measure.VOLUME: "cubic inches", Measure.COUNT: "pieces"}[self]


class Attachment(StrEnum):
    """How a strip or membrane is held to the wall."""

    SELF_ADHERED = "self-adhered"
    MECHANICAL = "mechanically attached"

    @property
    def standard(self) -> str:
        """The standard that such flashing is made to. Source: IRC R703.4."""
        return {Attachment.SELF_ADHERED: "AAMA 711", Attachment.MECHANICAL: "AAMA 712"}[self]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductFacts:
    """One product of the shelf.

    What its maker does not say is None or empty; figures that would follow from it are then missing.

    Args:
        package_quantity: what one package holds, in `measure`: inches of a roll, cubic inches of a cartridge,
            pieces of a box.
        width_in: None where width means nothing.
        trim_in: lost at each cut.
        shortest_remnant_in: what is left of a roll is kept from this length on.
        chemistry: what it is made of, for what may touch it.
        primer_sqft_per_gal: coverage, where this is a primer.
        exposure_limit_days: how long it may lie open to sun and weather.
        movement_class_pct: movement that a sealant takes, ± per cent of the joint width (ASTM C920).
        serves_from_in, serves_up_to_in: range of what it serves: for backer rod and air seal the gap, for other
            sealants the size of the bead, for everything else the width of the rough opening.
        spare_pct, spare_pieces: what the company takes beyond the exact need, one of the two; see `spare`.
        attachment: how a strip or membrane is held to the wall.
        fastener_kind, fastener_diameter_in, fastener_penetration_in: of a nail or screw, with how far it goes into the
            framing beyond all that it passes through; what it holds follows (NDS 12.2).
        allowable_lb: what one strap or fastener is rated for, as its product approval says; goes before that.

    Raises:
        BadProduct: the figures contradict one another; the sentence says which, `faults` name the fields.
    """

    code: str
    name: str
    measure: Measure
    package: str
    package_quantity: Decimal
    width_in: Decimal | None = None
    trim_in: Decimal = Decimal(0)
    shortest_remnant_in: Decimal = KEEP_IN
    chemistry: str = ""
    min_application_temp_f: Decimal | None = None
    max_application_temp_f: Decimal | None = None
    needs_primer: bool = False
    primer_sqft_per_gal: Decimal | None = None
    exposure_limit_days: int | None = None
    shelf_life_days: int | None = None
    movement_class_pct: Decimal | None = None
    serves_from_in: Decimal | None = None
    serves_up_to_in: Decimal | None = None
    spare_pct: Decimal = Decimal(0)
    spare_pieces: int = 0
    attachment: Attachment | None = None
    fastener_kind: FastenerKind | None = None
    fastener_diameter_in: Decimal | None = None
    fastener_penetration_in: Decimal | None = None
    allowable_lb: Decimal | None = None

    def __post_init__(self) -> None:
        if faults := tuple(_contradictions(self)):
            raise BadProduct("; ".join(fault.detail for fault in faults), faults=faults)


_POSITIVE = (
    "package_quantity", "width_in", "shortest_remnant_in", "primer_sqft_per_gal", "movement_class_pct",
    "fastener_diameter_in", "fastener_penetration_in", "allowable_lb",
)  # fmt: skip
_SIZE = ("fastener_diameter_in", "fastener_penetration_in")
THICKEST_FASTENER_IN, DEEPEST_FASTENER_IN = 1, 12
"""More is a slip of the pen (our choice)."""

_NOT_NEGATIVE = ("trim_in", "exposure_limit_days", "shelf_life_days", "serves_from_in", "spare_pct", "spare_pieces")
_RISING = (("serves_from_in", "serves_up_to_in"), ("min_application_temp_f", "max_application_temp_f"))


def _contradictions(product: ProductFacts) -> Iterator[Fault]:
    """Yield what cannot be true of one product, each under the field that is to be changed."""
    for name in _POSITIVE:
        figure = getattr(product, name)
        if figure is not None and figure <= 0:
            yield _fault(product, name, f"the {field_name(name)} is {plain(figure)}; it must be above 0")
    for name in _NOT_NEGATIVE:
        figure = getattr(product, name)
        if figure is not None and figure < 0:
            yield _fault(product, name, f"the {field_name(name)} is {plain(figure)}; it must not be negative")
    for name, more in _RISING:
        least, most = getattr(product, name), getattr(product, more)
        if least is not None and most is not None and least > most:
            yield _fault(
                product,
                name,
                f"the {field_name(name)} is {plain(least)}, above the {field_name(more)}, which is {plain(most)}",
            )
    if product.measure is Measure.LENGTH and product.trim_in >= product.package_quantity > 0:
        held = f"{US.say(product.package_quantity)} that the {product.package} holds"
        yield _fault(product, "trim_in", f"the trim is {US.say(product.trim_in)}; it must be less than the {held}")
    if product.spare_pct > 0 and product.spare_pieces > 0:
        yield _fault(product, "spare_pieces", "the spare is given in percent and in pieces; give one of the two")
    if product.spare_pieces > 0 and product.measure is Measure.VOLUME:
        yield _fault(product, "spare_pieces", "what comes in cubic inches has no spare pieces; give percent")
    yield from _bad_fastener(product)
    yield from _bad_attachment(product)


def _bad_fastener(product: ProductFacts) -> Iterator[Fault]:
    """Yield what cannot be true of a fastener."""
    given = [name for name in (*_SIZE, "fastener_kind", "allowable_lb") if getattr(product, name) is not None]
    if given and product.measure is not Measure.COUNT:
        what = f"only what is counted in {Measure.COUNT.plainly} holds a unit, not what is counted in"
        yield _fault(product, given[0], f"{what} {product.measure.plainly}; leave the {field_name(given[0])} empty")
    sized = [name for name in _SIZE if getattr(product, name) is not None]
    if len(sized) == 1:
        (lacking,) = set(_SIZE) - set(sized)
        yield _fault(
            product,
            lacking,
            f"the {field_name(sized[0])} is given and the {field_name(lacking)} is not; what a "
            f"{product.fastener_kind or 'fastener'} holds follows from both, so give both or neither",
        )
    if sized and product.fastener_kind is None:
        sentence = f"the {field_name(sized[0])} is given; say whether it is a nail or a screw, which hold differently"
        yield _fault(product, "fastener_kind", sentence)
    for name, most in zip(_SIZE, (THICKEST_FASTENER_IN, DEEPEST_FASTENER_IN), strict=True):
        figure = getattr(product, name)
        if figure is not None and figure > most:
            yield _fault(
                product, name, f"the {field_name(name)} is {US.say(figure)}; it is {US.say(Decimal(most))} at most"
            )


def _bad_attachment(product: ProductFacts) -> Iterator[Fault]:
    """Yield what cannot be true of how a strip is held."""
    if product.attachment is None:
        return
    if product.measure is not Measure.LENGTH:
        what = f"only what is counted in {Measure.LENGTH.plainly} is attached to a wall"
        yield _fault(product, "attachment", f"{what}, and this is counted in {product.measure.plainly}; leave it empty")
    if product.needs_primer and product.attachment is Attachment.MECHANICAL:
        sentence = "a mechanically attached strip sticks to nothing, so it needs no primer"
        yield _fault(product, "needs_primer", sentence)


def _fault(product: ProductFacts, field: str, sentence: str) -> Fault:
    return Fault(field=field, value=str(getattr(product, field)), detail=sentence)


def between(least: Decimal | None, most: Decimal | None, *, measure: str = "in", units: Units = US) -> str:
    """Return a range in words; an end that is None stays out.

    >>> between(Decimal("0.25"), Decimal(1)), between(None, Decimal(90), measure="f")
    ('from 1/4" up to 1"', 'up to 90 °F')
    """
    ends = [] if least is None else [f"from {units.say(least, measure)}"]
    return " ".join(ends if most is None else [*ends, f"up to {units.say(most, measure)}"])


TEMPERATURE, EXPOSURE, SHELF_LIFE = "application temperature", "exposure", "shelf life"

_MAKER = "limits of the maker, as the product has them"
_TEMPERATURE_SOURCE = f"{_MAKER}; frost can form on a joint below 40 °F: sealantsales.com, onsite consultation"


def temperature_advice(product: ProductFacts, *, low_f: Decimal, high_f: Decimal, units: Units = US) -> Advice:
    """Return whether a day is neither too cold nor too hot for the product.

    Args:
        low_f, high_f: the coldest and the warmest hour that are forecast.
    """
    least_f, most_f = product.min_application_temp_f, product.max_application_temp_f
    if least_f is None and most_f is None:
        missing = f"need info: at what temperatures {product.name} may be applied"
        return _advice(TEMPERATURE, Answer.CANNOT_TELL, missing, _TEMPERATURE_SOURCE)
    is_never = (least_f is not None and high_f < least_f) or (most_f is not None and low_f > most_f)
    is_always = (least_f is None or low_f >= least_f) and (most_f is None or high_f <= most_f)
    answer = Answer.NOT_MET if is_never else Answer.MET if is_always else Answer.TAKE_CARE
    reason = (
        f"{product.name} is applied {between(least_f, most_f, measure='f', units=units)}; "
        f"the day has {units.say(low_f, 'f')} to {units.say(high_f, 'f')}"
    )
    if answer is Answer.TAKE_CARE:
        reason += ", so only some of its hours will do"
    return _advice(TEMPERATURE, answer, reason, _TEMPERATURE_SOURCE)


def exposure_advice(product: ProductFacts, *, days: int) -> Advice:
    """Return whether the product may lie open to sun and weather for so many days."""
    most = product.exposure_limit_days
    if most is None:
        return _advice(EXPOSURE, Answer.CANNOT_TELL, f"need info: how long {product.name} may be exposed", _MAKER)
    answer = Answer.MET if days <= most else Answer.NOT_MET
    reason = f"{product.name} may be exposed for {counted(most, 'day')}; here it is for {counted(days, 'day')}"
    return _advice(EXPOSURE, answer, reason, _MAKER)


def shelf_life_advice(
    product: ProductFacts, *, on: date, made_on: date | None = None, received_on: date | None = None
) -> Advice:
    """Return whether a lot of the product is still good on a day.

    Age counts from the day it was made. Where only its receipt is known it is older than that by nobody knows how
    much: too old for certain, or to be looked at.
    """
    most, since = product.shelf_life_days, made_on or received_on
    if most is None or since is None:
        missing = f"how long {product.name} keeps" if most is None else f"when this lot of {product.name} was made"
        return _advice(SHELF_LIFE, Answer.CANNOT_TELL, f"need info: {missing}", _MAKER)
    age = (on - since).days
    answer = Answer.NOT_MET if age > most else Answer.MET if made_on else Answer.TAKE_CARE
    reason = f"{product.name} keeps {counted(most, 'day')}; on {day(on)} this lot is {counted(age, 'day')} old"
    if not made_on:
        reason += " at least, counted from the day it was received; look for the day it was made"
    return _advice(SHELF_LIFE, answer, reason, _MAKER)


def _advice(rule: str, answer: Answer, reason: str, source: str) -> Advice:
    return Advice(rule=rule, answer=answer, reason=reason, source=source)
