"""What the floor above tells of the products that are staged to fasten units."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import Any

from jobs import transaction
from jobs.about import about
from jobs.errors import Conflict
from openings.calc.anchorage import anchor_allowable_lb, fastener_allowable_lb
from openings.calc.binding import Verb
from openings.calc.geometry import require_detail
from openings.calc.staged import Staged
from openings.errors import BadDetail, OpeningBound
from openings.models import InstallationDetail, Opening, ShopFasteners
from openings.models.told import told_columns
from openings.queries.binding import why_bound


def lock_details(ids: Collection[int] | None = None) -> None:
    """Hold details, all of them for None, after the open openings that have them, until the transaction ends."""
    openings, details = Opening.objects.unfinished(), InstallationDetail.objects.all()
    if ids is not None:
        openings, details = openings.filter(detail__in=ids), details.filter(pk__in=ids)
    list(openings.select_for_update(of=("self",), no_key=True).order_by("pk").values_list("pk"))
    list(details.select_for_update(of=("self",), no_key=True).order_by("pk").values_list("pk"))


def standard_fasteners() -> dict[str, Any]:
    """Return the columns that a new detail begins with; nobody tells others until it is added. One query."""
    standard = ShopFasteners.objects.select_for_update(no_key=True).first()
    return told_columns(standard.staged) if standard else {}


@transaction.atomic
def tell_fasteners(*, standard: Staged, by_detail: Mapping[int, Staged]) -> None:
    """Keep what is staged for the anchors of details, and what a new detail begins with.

    The caller has locked the details. Told twice, it is as told once. Seven queries; up to seven more where
    loads change, and one for each kind of what is told, however many details.

    Args:
        by_detail: what is staged for each, its own choice before the shop's standard.

    Raises:
        OpeningBound: what an anchor may take would change while material for an opening is on a truck; one is named.
        Conflict: an opening would take more anchors than a side has room for; the product is named.
    """
    ShopFasteners.objects.update_or_create(pk=ShopFasteners.THE_ONE, defaults=told_columns(standard))
    details = InstallationDetail.objects.filter(pk__in=by_detail).order_by("pk")
    changed = [detail for detail in details if detail.staged != by_detail[detail.pk]]
    _require_anchored([detail for detail in changed if _holds_otherwise(detail, by_detail[detail.pk])], by_detail)
    alike: dict[Staged, list[int]] = defaultdict(list)
    for detail in changed:
        alike[by_detail[detail.pk]].append(detail.pk)
    for staged, ids in alike.items():
        InstallationDetail.objects.filter(pk__in=ids).update(**told_columns(staged))


def _holds_otherwise(detail: InstallationDetail, staged: Staged) -> bool:
    """Return whether anchors would be counted by another load; what a product is called counts nothing."""
    was = detail.as_facts()
    now = replace(was, staged=staged)
    return (fastener_allowable_lb(was), anchor_allowable_lb(was)) != (
        fastener_allowable_lb(now),
        anchor_allowable_lb(now),
    )


def _require_anchored(details: Iterable[InstallationDetail], by_detail: Mapping[int, Staged]) -> None:
    facts = {detail.pk: replace(detail.as_facts(), staged=by_detail[detail.pk]) for detail in details}
    openings = Opening.objects.unfinished().filter(detail__in=facts, design_pressure_psf__isnull=False)
    if not facts or not openings.exists():
        return
    if bound := why_bound(openings, Verb.RESTAGE):
        opening_id, why = next(iter(bound.items()))
        first = openings.select_related("detail").get(pk=opening_id)
        sentence = (
            f"the anchors of {first} are counted by what is staged for detail {first.detail}, so that stays: {why}"
        )
        raise OpeningBound(sentence, about=[about(first), about(first.detail)])
    for opening in openings.select_related("detail"):
        try:
            require_detail(opening.as_facts(), facts[opening.detail_id])
        except BadDetail as error:
            sentence = f"{opening} has detail {opening.detail} and cannot take the change: {error.detail}"
            raise Conflict(sentence, about=[about(opening), about(opening.detail)]) from error
