"""Recording whether what touches may touch."""

from __future__ import annotations

from jobs import transaction
from jobs.models import Person
from jobs.services import add, change
from materials.calc.compatibility import folded
from materials.models import Compatibility, Evidence, Product


@transaction.atomic
def record_evidence(*, product: Product, neighbor: Product, verdict: str, document: str, by: Person) -> Evidence:
    """Enter a document on two products that touch; the newest counts.

    Raises:
        ValidationError: the two are one product, or no document is named.
    """
    found = Evidence(product=product, neighbor=neighbor, verdict=verdict, document=document, recorded_by=by)
    return add(found)


@transaction.atomic
def judge_pair(*, chemistry: str, neighbor: str, verdict: str, source: str) -> Compatibility:
    """Say whether two materials may touch, whichever way round; what was said of the pair before is replaced.

    Raises:
        ValidationError: a value or a constraint is not kept.
    """
    one, other = sorted((folded(chemistry), folded(neighbor)))
    known = Compatibility.objects.select_for_update().filter(chemistry=one, neighbor=other).first()
    if known is None:
        return add(Compatibility(chemistry=one, neighbor=other, verdict=verdict, source=source))
    return change(known, verdict=verdict, source=source)
