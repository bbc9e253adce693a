"""The rule `waits`."""
