"""The score of a plan, recomputed from its stages."""
