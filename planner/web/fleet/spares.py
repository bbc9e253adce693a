"""Spare cover: every size on one page, and one size with what stands behind its odds."""

from django.http import HttpRequest, HttpResponse

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.selectors.spare_cover import DAYS_AHEAD, spare_cover_list
from planner.selectors.spare_priorities import WITHIN_DAYS, suggestion_list
from planner.web.fleet.cover_chart import cover_chart, cover_rows
from planner.web.here import Here, show, site_page


@site_page(Action.SITE_READ)
def spares(request: HttpRequest, here: Here) -> HttpResponse:
    """All sizes, what runs out first on top."""
    covers = spare_cover_list(user=here.user, site=here.site)
    return show(request, here, "fleet/spares.html", "fleet", covers=covers, tab="spares", days=DAYS_AHEAD)


@site_page(Action.SITE_READ)
def size(request: HttpRequest, here: Here) -> HttpResponse:
    """One size."""
    wanted = request.GET.get("size", "")
    covers = {cover.size: cover for cover in spare_cover_list(user=here.user, site=here.site)}
    if wanted not in covers:
        raise NotFoundError(f"no machine takes {wanted or 'that size'} here, and none is in repair")
    cover = covers[wanted]
    return show(
        request, here, "fleet/size.html", "fleet", cover=cover, chart=cover_chart(cover),
        figures=cover_rows(cover), suggestions=suggestion_list(cover), days=DAYS_AHEAD, within=WITHIN_DAYS,
    )  # fmt: skip
