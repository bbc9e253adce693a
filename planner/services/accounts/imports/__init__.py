"""Importing prices, rates, outcomes and stock from CSV or XLSX: whole or not at all."""
