"""Checks against published material; each names its source."""
