"""The rule `attendant_load`."""
