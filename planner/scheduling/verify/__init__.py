"""The checker: lists every rule that a plan breaks; it has never met a planner."""

from planner.scheduling.verify.check import schedule_verify, verify
from planner.scheduling.verify.locked_work import locked_verify
from planner.scheduling.verify.rules import RULES

__all__ = ["RULES", "locked_verify", "schedule_verify", "verify"]
