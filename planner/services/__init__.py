"""Writes: transactions, audit events, domain objects to rows."""
