"""What every part of the demo's loading needs."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db import models

from planner.models import Site, User
from planner.services.nouns import noun_add


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """One demo site on one day, with who writes it."""

    site: Site
    administrator: User
    users: Mapping[str, User]
    today: date

    def add(self, noun: str, **values: Any) -> models.Model:
        """Add a row as the administrator."""
        return noun_add(user=self.administrator, site=self.site, noun=noun, values=values, why="demo site")

    def at(self, days: int, hour: int, minute: int = 0) -> datetime:
        """A wall time of the site, `days` after today."""
        day = self.today + timedelta(days=days)
        return datetime.combine(day, time(hour, minute), ZoneInfo(self.site.time_zone))
