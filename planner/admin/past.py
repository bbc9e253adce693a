"""What happened: read only, because pages and workers write it with their own checks."""

from typing import Any

from django.contrib import admin
from django.db import models
from django.http import HttpRequest

from planner.admin.base import SiteTable
from planner.models import AuditEvent, Damage, Plan, PlanBuild, Shift, StageRun, Tyre, WorkOrder


@admin.register(Tyre, Damage, WorkOrder, StageRun, Shift, PlanBuild, Plan, AuditEvent)
class PastTable(SiteTable):
    """A table that can only be read."""

    def has_add_permission(self, request: HttpRequest, *_: Any) -> bool:
        """Nobody."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: models.Model | None = None) -> bool:
        """Nobody."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: models.Model | None = None) -> bool:
        """Nobody."""
        return False
