"""The machines: what they run, and where a tyre is missing."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from planner.domain.permissions import Action
from planner.selectors.machines import fleet_list
from planner.web.here import Here, show, site_page


@site_page(Action.SITE_READ)
def fleet(request: HttpRequest, here: Here) -> HttpResponse:
    """All machines in use; those that stand for want of a tyre first."""
    rows = fleet_list(user=here.user, site=here.site, now=timezone.now())
    rows.sort(key=lambda row: (not row.empty, row.machine.code))
    return show(
        request, here, "fleet/fleet.html", "fleet", rows=rows, tab="machines",
        standing=sum(bool(row.empty) for row in rows),
    )  # fmt: skip
