"""Readings that somebody takes from the gauges of a cure, one by one."""
