"""The rule `heater_set`."""
