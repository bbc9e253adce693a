"""Pages, by user."""
