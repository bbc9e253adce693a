"""One's own account: password, one-time codes, signing out everywhere."""
