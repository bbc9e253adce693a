"""The supervisor's pages: build the day, move things, publish."""
