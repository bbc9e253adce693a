"""Everything that an administrator keeps, one entry for each kind: for pages and spreadsheets alike."""
