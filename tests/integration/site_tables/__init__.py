"""Everything that an administrator keeps, in spreadsheets."""
