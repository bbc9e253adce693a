"""The rule `stages`."""
