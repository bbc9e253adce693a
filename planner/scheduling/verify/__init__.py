"""The checker: lists every rule that a plan breaks; it has never met a planner."""
