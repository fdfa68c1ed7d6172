"""Whether an issued pull sheet still says what is so, and what a new revision changes, in words."""

from __future__ import annotations

from collections.abc import Iterable

from materials.calc.basis import Basis, Figures, Packed, Topic, basis_from, canonical, differences
from materials.calc.pull import Pull
from materials.models import PullSheet
from materials.plans.compose import Composed
from materials.queries import lost_remnants

BEFORE_FIGURES_WERE_KEPT = 0


def reasons_to_revise(issued: PullSheet, now: Basis) -> tuple[str, ...]:
    """Return why an issued sheet no longer says what is so, a sentence each; none, and it stands as it is.

    One query, three of a sheet that was written before figures were kept.
    """
    return (*differences(basis_of(issued), now), *_lost(issued))


def changes_between(before: PullSheet, composed: Composed, pulls: Iterable[Pull]) -> tuple[str, ...]:
    """Return a sentence for each thing that differs from the revision before, rolls counted. Two queries.

    It says all that `reasons_to_revise` does, and what of itself would be no reason: how many rolls the new plan takes,
    and pairs of materials that are not tested yet.

    Args:
        pulls: those of `composed`, cut from rolls.
    """
    listed = before.lines.filter(quantity__gt=0, product__isnull=False)
    had = dict(listed.values_list("product", "packages"))
    packed = {
        str(product_id): Packed(was=had.get(product_id, 0), now=pull.packages)
        for pull in pulls
        if pull.product and (product_id := composed.product_ids[pull.product.code])
    }
    return (
        *differences(basis_of(before), composed.basis, packed=packed),
        *_lost(before),
        *_warned_anew(before, composed),
    )


def _warned_anew(before: PullSheet, composed: Composed) -> list[str]:
    """Return the new cautions that are no figures of the sheet before: untested pairs, and all where it kept none."""
    had = before.cautions
    texts = composed.book.cautions if before.basis is None else composed.untested
    return [f"new caution: {text}" for text in texts if had is not None and text not in had]


def basis_of(sheet: PullSheet) -> Basis:
    """Return what a written sheet is compared by; of one from before that was kept, what its lines and openings say.

    Its cautions, hours and sizes are then not compared. No query, two of such a sheet.
    """
    if sheet.basis is not None:
        return basis_from(sheet.basis)
    openings = sheet.openings.values_list("pk", "job__code", "mark")
    lines = sheet.lines.filter(quantity__gt=0).values_list("product", "product__name", "parts", "quantity", "measure")
    served: dict[str, Figures] = {}
    lacking: dict[str, Figures] = {}
    for product_id, name, parts, quantity, measure in lines:
        drawn = {"quantity": canonical(quantity), "measure": measure}
        if product_id is None:
            lacking[parts] = drawn
        else:
            served[str(product_id)] = drawn | {"name": name}
    return Basis(
        version=BEFORE_FIGURES_WERE_KEPT,
        topics={
            Topic.OPENINGS: {str(pk): {"job": job, "mark": mark} for pk, job, mark in openings},
            Topic.PRODUCTS: served,
            Topic.LACKING: lacking,
        },
    )


def _lost(sheet: PullSheet) -> list[str]:
    return [f"remnant {remnant.code} of {remnant.product} is not there any more" for remnant in lost_remnants(sheet)]
