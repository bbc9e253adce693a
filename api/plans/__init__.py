"""Plans: drafts and published versions."""
