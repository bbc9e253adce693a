"""Tyrewright: the day planner of a mine-site tyre repair bay."""
