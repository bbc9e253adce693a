"""Pages of the bay supervisor."""
