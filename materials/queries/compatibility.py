"""What is known of chemistries that touch."""

from __future__ import annotations

from materials.calc.compatibility import Verdict, verdict_of
from materials.models import Compatibility


def verdict(chemistry: str, neighbor: str) -> dict[str, str]:
    """Return the verdict on a pair and the document that says so, empty where nothing is known. One query."""
    pair = [chemistry, neighbor]
    rows = {
        (row.chemistry, row.neighbor): row
        for row in Compatibility.objects.filter(chemistry__in=pair, neighbor__in=pair)
    }
    known = {names: Verdict(row.verdict) for names, row in rows.items()}
    row = rows.get((chemistry, neighbor)) or rows.get((neighbor, chemistry))
    return {"verdict": verdict_of(chemistry, neighbor, known=known), "source": row.source if row else ""}
