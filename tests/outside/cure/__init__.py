"""The cure against published and computed values."""
