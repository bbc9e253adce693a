"""The rule `power`."""
