"""The store of repair materials, and what repairs take."""
