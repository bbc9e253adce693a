"""Load and faults, run by hand on the loopback; dated results stand in DEVELOPERS.md."""
