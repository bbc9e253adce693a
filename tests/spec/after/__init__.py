"""The rule `after`."""
