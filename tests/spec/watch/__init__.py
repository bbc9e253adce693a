"""The rule `watch`."""
