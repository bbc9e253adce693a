"""The pages, without a database."""
