"""The shift sheet."""
