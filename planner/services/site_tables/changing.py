"""Changing what an administrator keeps: through the nouns' services, the roster and the plan's guard."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from django.db import models
from django.db.models import Max

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.models import RosterPattern, Shift, Site, User
from planner.selectors.accounts.books import site_day
from planner.selectors.kept_nouns import noun_get
from planner.services.nouns import noun_add, noun_change, noun_remove
from planner.services.plan_guard import plan_guarded
from planner.services.rosters import shifts_make
from planner.services.site_tables.breaks import breaks_set
from planner.services.site_tables.tables import SiteTable
from planner.services.sites import site_change

ROSTER_NOUNS = frozenset({"rosterpattern", "rosterexception", "technician"})
"""Nouns that the calendar's shifts are made from."""


def kept_row_add(
    *, user: User, site: Site, noun: str, values: Mapping[str, Any], accepted: bool = False
) -> models.Model:
    """Add a row; PlanBreaksError where that breaks the published plan and is not `accepted`."""

    def change() -> models.Model:
        plain, breaks = _split(values)
        row = noun_add(user=user, site=site, noun=noun, values=plain)
        _followed(user, site, noun, row, breaks)
        return row

    return plan_guarded(user=user, site=site, accepted=accepted, change=change)


def kept_row_change(
    *,
    user: User,
    site: Site,
    noun: str,
    row_id: int,
    values: Mapping[str, Any],
    accepted: bool = False,
    expected_version: int | None = None,
    why: str = "",
) -> models.Model:
    """Change a row; PlanBreaksError where that breaks the published plan and is not `accepted`."""

    def change() -> models.Model:
        plain, breaks = _split(values)
        row = noun_change(
            user=user, site=site, noun=noun, row_id=row_id, values=plain, why=why,
            expected_version=expected_version,
        )  # fmt: skip
        _followed(user, site, noun, row, breaks)
        return row

    return plan_guarded(user=user, site=site, accepted=accepted, change=change)


def kept_row_remove(
    *, user: User, site: Site, noun: str, row_id: int, why: str, accepted: bool = False
) -> None:
    """Remove a row that nothing needs; PlanBreaksError as with a change."""

    def change() -> None:
        row = noun_get(user=user, site=site, noun=noun, row_id=row_id)
        noun_remove(user=user, site=site, noun=noun, row_id=row_id, why=why)
        _followed(user, site, noun, row, None)

    plan_guarded(user=user, site=site, accepted=accepted, change=change)


def table_row_end(
    *,
    user: User,
    site: Site,
    table: SiteTable,
    row_id: int,
    why: str,
    last_day: date | None = None,
    accepted: bool = False,
) -> None:
    """End a row: it is not used from now on or after its last day, or removed where nothing needs it."""
    if not why.strip():
        raise InvalidValueError(_("say why: the reason stays on record"))
    if table.ends:
        values = {table.ends: False if table.ends == "active" else last_day or site_day(site)}
        kept_row_change(
            user=user, site=site, noun=table.noun, row_id=row_id, values=values, accepted=accepted, why=why
        )
        return
    kept_row_remove(user=user, site=site, noun=table.noun, row_id=row_id, why=why, accepted=accepted)


def rules_change(
    *,
    user: User,
    site: Site,
    values: Mapping[str, Any],
    why: str,
    accepted: bool = False,
    expected_version: int | None = None,
) -> None:
    """Change the site's rules; PlanBreaksError where that breaks the published plan and is not `accepted`."""

    def change() -> None:
        site_change(user=user, site=site, values=values, why=why, expected_version=expected_version)

    plan_guarded(user=user, site=site, accepted=accepted, change=change)


def roster_put(
    *, user: User, site: Site, first_day: date, last_day: date, why: str = "", accepted: bool = False
) -> int:
    """Make the shifts of these days; how many. PlanBreaksError as with any other change."""
    return plan_guarded(
        user=user, site=site, accepted=accepted,
        change=lambda: shifts_make(user=user, site=site, first_day=first_day, last_day=last_day, why=why),
    )  # fmt: skip


def roster_extend(*, user: User, site: Site, last_day: date, accepted: bool = False) -> int:
    """Put the roster on the calendar from today to `last_day`; how many shifts that makes."""
    today = site_day(site)
    if not today <= last_day <= today + timedelta(days=366):
        raise InvalidValueError(_("choose a last day from today on, within a year"))
    return roster_put(user=user, site=site, first_day=today, last_day=last_day, accepted=accepted)


def roster_last_day(*, site: Site) -> date | None:
    """The last day on which somebody is on shift; None where nobody is from today on."""
    days = Shift.objects.filter(site=site, day__gte=site_day(site)).aggregate(last=Max("day"))
    last: date | None = days["last"]
    return last


def _split(values: Mapping[str, Any]) -> tuple[dict[str, Any], str | None]:
    plain = dict(values)
    return plain, plain.pop("breaks", None)


def _followed(user: User, site: Site, noun: str, row: models.Model, breaks: str | None) -> None:
    """Breaks follow their pattern, and the shifts from today on the roster, as far as they were made."""
    if breaks is not None and isinstance(row, RosterPattern):
        breaks_set(user=user, site=site, pattern=row, text=breaks)
    last = roster_last_day(site=site) if noun in ROSTER_NOUNS else None
    if last is not None:
        shifts_make(user=user, site=site, first_day=site_day(site), last_day=last, why="the roster changed")
