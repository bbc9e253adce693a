"""Unit tests of planner.engineering."""
