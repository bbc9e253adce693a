"""Tests of the structure itself."""
