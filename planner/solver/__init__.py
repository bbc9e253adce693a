"""The constraint solver: the only door to OR-Tools."""
