"""Pages of long lists."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet

if TYPE_CHECKING:
    AnyPaginator = Paginator[Any]
else:
    AnyPaginator = Paginator  # Django's cannot be subscripted when the program runs


class LongPaginator(AnyPaginator):
    """Pages of rows in an order that an index serves, the last as quick as the first.

    The rows before a page are passed over by their keys alone, from the end of the list where that is nearer. The
    order must be total, or pages would overlap.
    """

    def page(self, number: int | str) -> Page[Any]:
        """Return a page, as `Paginator.page`."""
        if not isinstance(self.object_list, QuerySet):
            return super().page(number)
        number = self.validate_number(number)
        before = (number - 1) * self.per_page
        size = min(self.per_page, self.count - before)
        return Page(self._rows(self.object_list, before=before, size=size), number, self)

    def _rows(self, rows: QuerySet[Any], *, before: int, size: int) -> QuerySet[Any]:
        after = self.count - before - size
        keys = rows.values("pk")
        found = keys.reverse()[after : after + size] if after < before else keys[before : before + size]
        return rows.filter(pk__in=found)
