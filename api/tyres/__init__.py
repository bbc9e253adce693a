"""Tyres and their damage."""
