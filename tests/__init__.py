"""Tests of Tyrewright."""
