"""Filters for temperatures and pressures in the reader's units."""

from django import template

from planner.selectors.reading_units import pressure_words, temperature_words

register = template.Library()
register.filter("temperature", temperature_words)
register.filter("pressure", pressure_words)
