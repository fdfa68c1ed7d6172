"""How long lists are cut into pages."""

from rest_framework.pagination import PageNumberPagination


class Pages(PageNumberPagination):
    """50 entries a page; `?page_size=` asks for up to 500."""

    page_size = 50
    page_size_query_param = "page_size"
    max_page_size = 500
