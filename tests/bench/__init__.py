"""Benchmarks, run by hand; results stand in DEVELOPERS.md."""
