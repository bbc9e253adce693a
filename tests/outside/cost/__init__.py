"""Costing against worked examples and reference libraries."""
