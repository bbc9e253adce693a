"""The rule `handover`."""
