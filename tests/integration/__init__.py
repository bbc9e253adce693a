"""Tests with a database, a broker or a command."""
