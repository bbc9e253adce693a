"""A related row, by what people call it."""

from typing import Any

from rest_framework import serializers


class Named(serializers.SlugRelatedField[Any]):
    """The row's code, number or user name instead of its id."""
