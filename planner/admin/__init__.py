"""The administrator's tables: what is kept can be changed through services, what happened only read."""

from planner.admin import kept, past

__all__ = ["kept", "past"]
