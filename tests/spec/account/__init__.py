"""The rule `account`."""
