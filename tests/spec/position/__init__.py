"""The rule `position`."""
