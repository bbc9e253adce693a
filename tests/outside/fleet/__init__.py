"""The fleet and its spare tyres against published and computed values."""
