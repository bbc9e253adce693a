"""The rule `attendant`."""
