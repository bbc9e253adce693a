"""Settings, addresses, and the ways in."""
