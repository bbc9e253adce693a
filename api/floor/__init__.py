"""What the crew tells from the floor beside its stages."""
