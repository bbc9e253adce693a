"""Sites and their rules."""
