"""Pages with a database, without a browser."""
