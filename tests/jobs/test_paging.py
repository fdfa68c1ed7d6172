"""Pages of long lists: the same rows as if the list were cut from its beginning."""

from __future__ import annotations

import pytest
from django.core.paginator import EmptyPage

from jobs.models import Job
from jobs.paging import LongPaginator


@pytest.mark.django_db
@pytest.mark.parametrize("count", [0, 1, 4, 5, 6, 10, 13])
def test_all_pages_together_are_the_list(count):
    Job.objects.bulk_create(Job(code=f"j-{n:02}", name=f"Weir {n % 3}", address="2 Weir Lane") for n in range(count))
    ordered = Job.objects.filter(name__lt="Weir 2").order_by("-name", "pk")
    pages = LongPaginator(ordered, 4)
    assert [job.pk for page in pages for job in page] == [job.pk for job in ordered]
    assert [len(page) for page in pages][:-1] == [4] * (pages.num_pages - 1)
    with pytest.raises(EmptyPage):
        pages.page(pages.num_pages + 1)


def test_what_is_no_query_is_cut_as_it_is():
    assert [list(page) for page in LongPaginator([1, 2, 3], 2)] == [[1, 2], [3]]
