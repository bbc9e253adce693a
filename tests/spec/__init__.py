"""A folder for each bay rule, run on every planner."""
