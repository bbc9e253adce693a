"""The rule `length`."""
