"""What a package holds, as people write it → the measure of its product."""

from __future__ import annotations

import re
from decimal import Decimal, InvalidOperation

from materials.calc.packs import CUIN_PER_GAL, cuin_of_fl_oz, cuin_of_ml
from materials.calc.product import Measure
from materials.errors import BadProduct
from openings.calc.figures import half_up
from openings.calc.tape import read_length

_VOLUME = re.compile(r"(?P<number>\d{1,6}(?:\.\d{0,5})?|\.\d{1,5}) ?(?P<unit>[a-z. ]{0,12})")
_PER_UNIT = {
    **dict.fromkeys(("", "cu in", "cu. in.", "cuin"), Decimal(1)),
    **dict.fromkeys(("fl oz", "fl. oz.", "oz", "oz."), cuin_of_fl_oz(Decimal(1))),
    **dict.fromkeys(("gal", "gal.", "gallon", "gallons"), CUIN_PER_GAL),
    **dict.fromkeys(("qt", "qt.", "quart", "quarts"), CUIN_PER_GAL / 4),
    **dict.fromkeys(("ml",), cuin_of_ml(Decimal(1))),
}
"""Cubic inches in one. Source: NIST Handbook 44, appendix C, by way of `packs`."""


def read_amount(text: str, measure: Measure) -> Decimal:
    """Return what a package holds, in the measure of its product.

    >>> read_amount("75 ft", Measure.LENGTH), read_amount("10.1 fl oz", Measure.VOLUME)
    (Decimal('900.00000'), Decimal('18.22734'))

    Args:
        text: a length in tape notation, a volume in cubic inches or with its unit, or a count.

    Raises:
        BadLength: it is no length.
        BadProduct: it is no volume, or no count.
    """
    match measure:
        case Measure.LENGTH:
            return read_length(text)
        case Measure.VOLUME:
            return _volume(text)
        case Measure.COUNT:
            return _count(text)


def _volume(text: str) -> Decimal:
    found = _VOLUME.fullmatch(" ".join(text.casefold().split())[:40])
    per_unit = _PER_UNIT.get(found["unit"].strip()) if found else None
    if found is None or per_unit is None:
        raise BadProduct(f"“{text[:40]}” is no volume; write it like 18.23, 10.1 fl oz, 300 ml or 1 gal")
    return half_up(Decimal(found["number"]) * per_unit)


def _count(text: str) -> Decimal:
    wrong = BadProduct(f"“{text[:40]}” is no count of pieces; write it like 250")
    try:
        count = Decimal(text.replace(",", "")[:12])
    except InvalidOperation as error:
        raise wrong from error
    if not count.is_finite() or count != count.to_integral_value():
        raise wrong
    return count
