"""The odds of a plan."""
