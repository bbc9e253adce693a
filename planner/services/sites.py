"""Opening a site and changing its rules."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action, Role
from planner.domain.sentences import _
from planner.models import Site, SiteMembership, User
from planner.selectors.access import require_on_site
from planner.services.audit import audit_event_add
from planner.services.rows import row_add, row_change, row_checked_save


def site_open(
    *, administrator: User, code: str, name: str, time_zone: str, currency: str, **rules: Any
) -> Site:
    """Open a site with its first administrator."""
    site = Site(code=code, name=name, time_zone=time_zone, currency=currency, **rules)
    with transaction.atomic():
        row_checked_save(site=site, row=site)
        audit_event_add(site=site, user=administrator, action="site_open", row=site, what=f"opened {site}")
        member = SiteMembership(site=site, user=administrator, role=Role.ADMINISTRATOR)
        row_add(user=administrator, site=site, row=member, action="sitemembership_add")
    return site


def site_change(
    *, user: User, site: Site, values: Mapping[str, Any], why: str, expected_version: int | None = None
) -> None:
    """Change the site's name, units or rules; its code and currency stay."""
    require_on_site(user=user, site=site, action=Action.SITE_CHANGE)
    fixed = {"code", "currency", "id", "version"} & set(values)
    if fixed:
        raise InvalidValueError(_("{fixed} of a site cannot be changed", fixed=sorted(fixed)))
    row_change(
        user=user,
        site=site,
        row=site,
        values=values,
        action="site_change",
        why=why,
        expected_version=expected_version,
    )
