"""Improvement of a plan: take jobs off the board, put them back in another order, keep what is better."""
