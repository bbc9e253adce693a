"""Shifts on the calendar."""
