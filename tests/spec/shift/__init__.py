"""The rule `shift`."""
