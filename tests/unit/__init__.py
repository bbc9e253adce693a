"""Unit tests: mirrors planner, no database."""
