"""The record of a repair, on page and paper."""
