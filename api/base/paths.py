"""Numbers in addresses: from 1, and never longer than a database can compare."""

from django.urls import register_converter


class RowConverter:
    """The number of a row."""

    regex = "[1-9][0-9]{0,8}"

    def to_python(self, value: str) -> int:
        """The number."""
        return int(value)

    def to_url(self, value: int) -> str:
        """The number in an address."""
        return str(value)


register_converter(RowConverter, "row")
