"""Spare tyres that are on order."""
