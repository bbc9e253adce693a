"""The accountant's drawings, as numbers."""
