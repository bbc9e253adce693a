"""The administrator's tables."""
