"""Celery tasks: ids in, a service called, safe to run twice."""
