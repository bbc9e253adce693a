"""The constructive planner: a plan in well under a second that holds every rule of the bay."""

from planner.scheduling.dispatch.construct import dispatch
from planner.scheduling.dispatch.locked import LockedWorkError

__all__ = ["LockedWorkError", "dispatch"]
