"""The REST API alone."""
