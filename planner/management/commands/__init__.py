"""Commands: thin wrappers over services and selectors."""
