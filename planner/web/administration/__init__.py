"""Pages of the administrator: everything that a site keeps, one way for all of it."""
