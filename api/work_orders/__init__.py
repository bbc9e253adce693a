"""Work orders: the repairs of tyres."""
