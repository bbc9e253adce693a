"""Unit tests of heat, cure and log."""
