"""Published scheduling instances, written as bay problems."""
