"""The store of repair materials: lots, dates, what is short."""
