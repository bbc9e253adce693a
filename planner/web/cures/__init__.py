"""The cures of an order: their minutes, logs, verdicts and decisions."""
