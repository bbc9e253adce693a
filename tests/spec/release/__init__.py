"""The rule `release`."""
