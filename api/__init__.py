"""The REST API: one folder for each resource."""
