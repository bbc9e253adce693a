"""The constructive planner: exact on every rule, in well under a second."""
