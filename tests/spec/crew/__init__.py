"""The rule `crew`."""
