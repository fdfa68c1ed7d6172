"""What a new revision of a pull sheet changes, in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from materials.calc.product import Measure
from materials.calc.pull import Pull
from materials.models import PullSheet
from openings.calc.figures import plain
from openings.calc.tape import format_length
from openings.models import Opening


def changes_between(
    before: PullSheet, openings: Iterable[Opening], pulls: Iterable[Pull], cautions: Sequence[str]
) -> tuple[str, ...]:
    """Return one sentence for each opening, product and caution that differs from the revision before.

    Two queries.
    """
    had = {opening.pk: f"{opening.job.code} {opening.mark}" for opening in before.openings.select_related("job")}
    have = {opening.pk: f"{opening.job.code} {opening.mark}" for opening in openings}
    sentences = [f"{had[pk]} is no longer on this sheet" for pk in had if pk not in have]
    sentences += [f"{have[pk]} is new on this sheet" for pk in have if pk not in had]
    listed = before.lines.filter(quantity__gt=0).select_related("product")
    lines = {line.product.code if line.product else line.parts: line for line in listed}
    for pull in pulls:
        key = pull.product.code if pull.product else ", ".join(pull.parts)
        old = lines.pop(key, None)
        if old is None:
            sentences.append(f"{key} is new: {pull.packages} {pull.product.package if pull.product else ''}".strip())
        elif old.packages != pull.packages:
            sentences.append(f"{key}: {pull.packages} instead of {old.packages}")
        elif old.quantity != pull.quantity:
            sentences.append(
                f"{key}: {_exact(pull.quantity, pull.measure)} instead of {_exact(old.quantity, pull.measure)}"
            )
    sentences += [f"{key} is no longer needed" for key in lines]
    sentences += _cautions_changed(before.cautions, cautions)
    return tuple(sentences) or ("details of an opening or a job were corrected",)


def _cautions_changed(had: Sequence[str] | None, have: Sequence[str]) -> list[str]:
    """Return what is warned of anew and no longer; of a sheet that did not keep its cautions, only that it may be."""
    if had is None:
        return ["read the cautions again: some may be new"] if have else []
    return [
        *(f"new caution: {caution}" for caution in have if caution not in had),
        *(f"no longer a caution: {caution}" for caution in had if caution not in have),
    ]


def _exact(quantity: Decimal, measure: Measure) -> str:
    return format_length(quantity) if measure is Measure.LENGTH else f"{plain(quantity)} {measure}"
