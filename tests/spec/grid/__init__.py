"""The rule `grid`."""
