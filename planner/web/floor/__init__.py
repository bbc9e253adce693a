"""Pages of the technician on the floor."""
