"""Abuse: what somebody sends who means harm."""
