"""The REST API against a database."""
