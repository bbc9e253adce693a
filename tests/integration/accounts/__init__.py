"""Money on file: services and selectors on a database."""
