"""What stands behind the pages, without a database."""
