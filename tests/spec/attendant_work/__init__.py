"""The rule `attendant_work`."""
