"""Transient conduction through the repair as a slab between two faces."""
