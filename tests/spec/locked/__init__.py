"""The rule `locked`."""
