"""Lists come in pages."""

from rest_framework.pagination import PageNumberPagination


class Pages(PageNumberPagination):
    """50 rows unless `page_size` asks for another number, 200 at most."""

    page_size = 50
    page_size_query_param = "page_size"
    max_page_size = 200
