"""The rule `block`."""
