"""A story for each user, in a real browser."""
