"""The rule `horizon`."""
