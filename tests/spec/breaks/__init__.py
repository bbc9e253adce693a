"""The rule `breaks`."""
