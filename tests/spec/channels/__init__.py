"""The rule `channels`."""
