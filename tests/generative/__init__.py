"""Random problems: every planner's plan holds."""
