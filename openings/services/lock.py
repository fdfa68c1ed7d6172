"""Rows that a service holds while it decides."""

from __future__ import annotations

from collections.abc import Collection

from jobs.about import missing_row
from jobs.errors import NotFound
from openings.models import InstallationDetail, Opening


def lock_openings(ids: Collection[int]) -> list[Opening]:
    """Return the openings, locked in the order of their ids until the transaction ends.

    Not as for a deletion: a sheet that is written holds its crew day and only names its openings, and need not wait
    for somebody who holds one of them and waits for that crew day.

    Raises:
        NotFound: one of them does not exist.
    """
    openings = list(
        Opening.objects.select_for_update(of=("self",), no_key=True)
        .select_related("job", "detail")
        .filter(pk__in=ids)
        .order_by("pk")
    )
    missing = set(ids) - {opening.pk for opening in openings}
    if missing:
        none = [missing_row(Opening, pk) for pk in sorted(missing)]
        raise NotFound(f"there is no opening {', '.join(map(str, sorted(missing)))}", about=none)
    return openings


def lock_opening(opening_id: int) -> Opening:
    """Return one opening, locked until the transaction ends.

    Raises:
        NotFound: it does not exist.
    """
    return lock_openings([opening_id])[0]


def lock_detail_of_openings(detail_id: int) -> InstallationDetail:
    """Return one installation detail, locked after all openings that have it, as who gives it to one locks them.

    Raises:
        NotFound: it does not exist.
    """
    having = Opening.objects.filter(detail=detail_id).order_by("pk").values_list("pk")
    list(having.select_for_update(of=("self",), no_key=True))
    return lock_detail(detail_id)


def lock_detail(detail_id: int) -> InstallationDetail:
    """Return one installation detail, locked until the transaction ends; nobody gives it to an opening meanwhile.

    Raises:
        NotFound: it does not exist.
    """
    detail = InstallationDetail.objects.select_for_update(of=("self",), no_key=True).filter(pk=detail_id).first()
    if detail is None:
        raise NotFound(f"there is no installation detail {detail_id}")
    return detail
