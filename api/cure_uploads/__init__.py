"""A logger's file between upload and import."""
