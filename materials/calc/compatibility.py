"""Whether what touches in a detail may touch."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from itertools import product as each_pair
from typing import NamedTuple

from jobs.calc.say import dated, plural
from materials.calc.product import ProductFacts
from materials.calc.supply import Find
from materials.calc.touching import Contact


class Verdict(StrEnum):
    """What is known of a pair; what is not known is to be tested first."""

    COMPATIBLE = "compatible"
    NOT_COMPATIBLE = "not compatible"
    TEST_FIRST = "test first"


class Finding(NamedTuple):
    """A verdict, and the document or the page that says so."""

    verdict: Verdict
    source: str


Pair = tuple[str, str]
"""Two chemistries by name, in whichever order."""

UNKNOWN = Finding(Verdict.TEST_FIRST, "AAMA 713: sealants and flashing that touch are tested together")

_PLASTICIZER = "fortifiber.com, product compatibility: plasticizer migrates into asphalt and softens it"
_BUTYL = "prosalesmagazine.com (trade page), flexible flashings: butyl is the safest in general and still to be tested"
_AVOID = "company default, editable (to be avoided on asphalt; source not checked)"

_ASPHALT = ("asphalt", "rubberized asphalt")


def _all(names: Iterable[str], neighbors: Iterable[str], verdict: Verdict, source: str) -> dict[Pair, Finding]:
    return dict.fromkeys(each_pair(names, neighbors), Finding(verdict, source))


STARTING_VERDICTS: dict[Pair, Finding] = {
    **_all(
        ["butyl"],
        [*_ASPHALT, "silicone, neutral cure", "polyurethane", "acrylic latex"],
        Verdict.TEST_FIRST,
        _BUTYL,
    ),
    **_all(_ASPHALT, ["plasticized pvc", "flexible pvc"], Verdict.NOT_COMPATIBLE, _PLASTICIZER),
    **_all(_ASPHALT, ["plasticized sealant", "epdm"], Verdict.TEST_FIRST, _PLASTICIZER),
    **_all(
        _ASPHALT,
        ["polysulfide", "solvent-based sealant", "silicone, acetoxy cure"],
        Verdict.NOT_COMPATIBLE,
        _AVOID,
    ),
}
"""Pairs on which something is published, until a shop knows better; names are folded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """A document on two products, by their codes: a maker's letter, a report, a test on the site."""

    product: str
    neighbor: str
    verdict: Verdict
    document: str
    recorded_by: str
    recorded_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """Two parts that touch, the products that serve them, and whether these may touch."""

    contact: Contact
    product: ProductFacts | None
    neighbor: ProductFacts | None
    verdict: Verdict
    reason: str
    source: str


def folded(chemistry: str) -> str:
    """Return a chemistry as it is compared, however it is capitalized or spaced."""
    return " ".join(chemistry.casefold().split())


def verdict_of(chemistry: str, neighbor: str, *, known: Mapping[Pair, Finding]) -> Finding:
    """Return what is known of two chemistries, whichever way round it is listed, else `STARTING_VERDICTS`, else a test.

    Args:
        known: what the shop knows, by folded names; it goes before what is published.

    Source:
        Compatibility is tested, not assumed: AAMA 713. Its makers' pages leave most pairs to a test.
    """
    pair = folded(chemistry), folded(neighbor)
    return _listed(pair, known) or _listed(pair, STARTING_VERDICTS) or UNKNOWN


def judged(
    contacts: Iterable[Contact], find: Find, *, known: Mapping[Pair, Finding], evidence: Iterable[Evidence] = ()
) -> tuple[Judged, ...]:
    """Return whether what touches may touch, contact by contact.

    Evidence on the two products says more than what their chemistries let expect, whichever way it points; of several
    on one pair the newest counts, of one day the one that stands first.
    """
    newest: dict[frozenset[str], Evidence] = {}
    for item in evidence:
        codes = frozenset((item.product, item.neighbor))
        if codes not in newest or item.recorded_on > newest[codes].recorded_on:
            newest[codes] = item
    said = []
    for contact in contacts:
        both = find(contact.part), find(contact.neighbor)
        (verdict, source), reason = _found(contact, both, known, newest)
        said.append(
            Judged(contact=contact, product=both[0], neighbor=both[1], verdict=verdict, reason=reason, source=source)
        )
    return tuple(said)


def _listed(pair: Pair, table: Mapping[Pair, Finding]) -> Finding | None:
    return table.get(pair) or table.get((pair[1], pair[0]))


def _found(
    contact: Contact,
    both: tuple[ProductFacts | None, ProductFacts | None],
    known: Mapping[Pair, Finding],
    newest: Mapping[frozenset[str], Evidence],
) -> tuple[Finding, str]:
    """Return the finding on one contact, and how it came about."""
    product, neighbor = both
    if product is None or neighbor is None:
        missing = [str(part) for part, chosen in ((contact.part, product), (contact.neighbor, neighbor)) if not chosen]
        return UNKNOWN, f"no product is chosen for {' and '.join(missing)}"
    if document := newest.get(frozenset((product.code, neighbor.code))):
        by_whom = f"recorded by {document.recorded_by} on {dated(document.recorded_on)}"
        return Finding(document.verdict, document.document), f"{product.name} and {neighbor.name}: {by_whom}"
    if product.code == neighbor.code:
        return _SAME, _same_material(product.name)
    unnamed = [one.name for one in (product, neighbor) if not one.chemistry]
    if unnamed:
        return UNKNOWN, f"need info: what {' and '.join(unnamed)} {plural('is', len(unnamed))} made of"
    pair = folded(product.chemistry), folded(neighbor.chemistry)
    if pair[0] == pair[1] and not _listed(pair, known):
        return _SAME, _same_material(pair[0])
    return verdict_of(*pair, known=known), f"{pair[0]} and {pair[1]}"


_SAME = Finding(Verdict.COMPATIBLE, "company default (same material)")


def _same_material(name: str) -> str:
    return f"same material: {name}"
