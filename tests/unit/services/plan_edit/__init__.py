"""Changing a draft by hand."""
