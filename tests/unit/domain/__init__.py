"""Unit tests of planner.domain."""
