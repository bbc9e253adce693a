"""Pages of the accountant."""
