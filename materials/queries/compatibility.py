"""Look up whether materials that touch are compatible."""

from __future__ import annotations

from collections.abc import Collection

from django.db.models import Q

from materials.calc import compatibility
from materials.calc.compatibility import Finding, Pair, Verdict, folded, verdict_of
from materials.models import Compatibility, Evidence


def known_pairs() -> dict[Pair, Finding]:
    """Return what the shop knows of chemistries that touch. One query."""
    return {
        (folded(row.chemistry), folded(row.neighbor)): Finding(Verdict(row.verdict), row.source)
        for row in Compatibility.objects.all()
    }


def verdict(chemistry: str, neighbor: str) -> dict[str, str]:
    """Return the verdict on a pair and the document or page that says so. One query."""
    found = verdict_of(chemistry, neighbor, known=known_pairs())
    return {"verdict": found.verdict, "source": found.source}


def evidence_on(codes: Collection[str]) -> list[compatibility.Evidence]:
    """Return the evidence on products that touch one another, the newest first. One query."""
    rows = Evidence.objects.filter(Q(product__code__in=codes) & Q(neighbor__code__in=codes))
    return [
        compatibility.Evidence(
            product=row.product.code,
            neighbor=row.neighbor.code,
            verdict=Verdict(row.verdict),
            document=row.document,
            recorded_by=str(row.recorded_by),
            recorded_on=row.recorded_at.date(),
        )
        for row in rows.select_related("product", "neighbor", "recorded_by")
    ]
