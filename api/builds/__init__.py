"""The building of plans."""
