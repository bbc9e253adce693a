"""Reads: rows to domain objects."""
