"""Receivers outside that are told what happens on a site."""
