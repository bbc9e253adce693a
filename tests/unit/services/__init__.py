"""Services, as far as they need no database."""
