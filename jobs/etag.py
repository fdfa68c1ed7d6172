"""Versions of what can be edited: `ETag` says which one was read, `If-Match` which one is to be changed.

The tag is the row's `updated_at` between quotes. It speaks of what can be edited: of the row itself and of what is a
part of it, not of what an answer shows besides, such as the state of an opening, and not of how that is shown. So it
never answers `If-None-Match`.
"""

from __future__ import annotations

from collections.abc import Mapping

from django.db.models import Model
from django.http import HttpResponse
from django.utils.http import parse_etags
from rest_framework.request import Request

from jobs.about import about
from jobs.changed import COLUMN, written
from jobs.errors import BadInput, ChangedMeanwhile
from jobs.names import LONGEST_SHOWN

HEADER = "If-Match"
ANY = "*"


def put_tag(response: HttpResponse) -> None:
    """Let an answer that shows one row say which version of it."""
    data = getattr(response, "data", None)
    if isinstance(data, Mapping) and COLUMN in data and response.status_code < 300:
        response.headers["ETag"] = f'"{data[COLUMN]}"'


def require_match(request: Request, row: Model) -> None:
    """Return if a row is one of the versions that `If-Match` names, locked until the transaction ends.

    Raises:
        BadInput: the header holds no tag.
        ChangedMeanwhile: it is another version.

    Source:
        RFC 9110, section 13.1.1: any of the tags, by the strong comparison, in which a weak tag equals nothing.
    """
    tags = parse_etags(request.headers[HEADER])
    if not tags:
        sent = request.headers[HEADER][:LONGEST_SHOWN]
        raise BadInput.of(HEADER, sent, f"{HEADER} takes what ETag said, with its quotes, or *")
    version = locked_version(type(row), row.pk)
    if ANY in tags or version in tags or version is None:  # what is gone meanwhile is not found by who changes it
        return
    error = ChangedMeanwhile(
        f"{row} was changed after you read it; nothing was written. Read it again, then decide", about=[about(row)]
    )
    error.members[COLUMN] = version.strip('"')
    raise error


def locked_version(model: type[Model], pk: int) -> str | None:
    """Return the tag of a row, locked until the transaction ends, or None where it is gone. One query."""
    rows = model._default_manager.select_for_update(no_key=True).filter(pk=pk).order_by()
    changed = rows.values_list(COLUMN, flat=True).first()
    return f'"{written(changed)}"' if changed else None
