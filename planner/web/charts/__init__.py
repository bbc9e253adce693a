"""Drawings as SVG text, from plain figures."""
