"""The rule `one_stage`."""
