"""Problem and plan formats, the constructive planner, the checker and the score."""
