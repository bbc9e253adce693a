"""Tests of what keeps a service running: its chain, its archive, its worker."""
