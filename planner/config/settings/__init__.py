"""Settings: base, embedded, service and testing."""
