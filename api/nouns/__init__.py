"""Whatever an administrator keeps: people, places, sets, routes, rosters, closures."""
