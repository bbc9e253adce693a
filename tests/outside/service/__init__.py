"""The service against published standards."""
