"""Unit tests of planner.costing."""
