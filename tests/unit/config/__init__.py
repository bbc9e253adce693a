"""Tests of the settings and of what watches the service."""
