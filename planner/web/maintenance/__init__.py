"""Pages of the maintenance planner."""
