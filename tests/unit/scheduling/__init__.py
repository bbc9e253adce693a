"""Tests of formats, checker, score and dispatch."""
