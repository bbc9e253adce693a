"""Fakes, builders and generators that tests share."""
