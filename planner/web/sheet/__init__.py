"""The shift sheet: one technician's day on paper."""
