"""How long lists are cut into pages."""

from rest_framework.pagination import PageNumberPagination

from jobs.paging import LongPaginator


class Pages(PageNumberPagination):
    """50 entries a page; `?page_size=` asks for up to 500."""

    django_paginator_class = LongPaginator
    page_size = 50
    page_size_query_param = "page_size"
    max_page_size = 500
