"""The rule `closures`."""
