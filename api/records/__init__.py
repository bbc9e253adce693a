"""Repair records, inspections and cures of one order."""
