"""Imports and exports that a worker does."""
