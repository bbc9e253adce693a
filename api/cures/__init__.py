"""Logged cures and what a person decided on them."""
