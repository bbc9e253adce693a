"""The rule `power_off`."""
