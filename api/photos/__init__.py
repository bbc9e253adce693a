"""Photos of injuries."""
