"""The rows that pages and the API may name in their types; what they do with them goes through services."""

from planner.models import (
    ApiToken,
    AuditEvent,
    Damage,
    HeaterSet,
    LeverTrialRow,
    Machine,
    Plan,
    PlanBuild,
    Site,
    SiteMembership,
    StageRun,
    Technician,
    Tyre,
    User,
    WorkOrder,
)

__all__ = [
    "ApiToken",
    "AuditEvent",
    "Damage",
    "HeaterSet",
    "LeverTrialRow",
    "Machine",
    "Plan",
    "PlanBuild",
    "Site",
    "SiteMembership",
    "StageRun",
    "Technician",
    "Tyre",
    "User",
    "WorkOrder",
]
