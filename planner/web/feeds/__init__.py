"""Calendar feeds (RFC 5545): their page, and what calendars read."""
