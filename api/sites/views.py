"""The sites of whoever signed in, and one site's rules."""

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.broken_plan import BrokenPlan
from api.base.pages import Pages
from api.base.views import SignedInView, SiteView
from api.sites.shapes import SiteChange, SiteShape
from planner.domain.permissions import Action
from planner.selectors.access import site_get, site_list
from planner.selectors.nouns import ApiToken
from planner.services.site_tables.changing import rules_change


class Sites(SignedInView):
    """The caller's sites."""

    pagination_class = Pages

    @extend_schema(operation_id="site_list", responses=SiteShape(many=True))
    def get(self, request: Request) -> Response:
        """The sites that the caller belongs to; with a token, its own alone."""
        rows = site_list(user=self.user)
        if isinstance(request.auth, ApiToken):
            rows = rows.filter(pk=request.auth.site_id)
        pages = Pages()
        found = pages.paginate_queryset(rows, request, view=self)
        return pages.get_paginated_response(SiteShape(found, many=True).data)


class OneSite(SiteView):
    """One site."""

    actions = {"GET": Action.SITE_READ, "PATCH": Action.SITE_CHANGE}

    @extend_schema(operation_id="site_get", responses=SiteShape)
    def get(self, request: Request, site: str) -> Response:
        """The site with the rules of its bay."""
        return self.one(self.site, SiteShape)

    @extend_schema(
        operation_id="site_change", parameters=[BrokenPlan], request=SiteChange, responses=SiteShape
    )
    def patch(self, request: Request, site: str) -> Response:
        """Change the site's name, units or rules."""
        self.refuse_unmatched(self.site, SiteShape)
        values = self.sent(SiteChange, partial=True)
        rules_change(
            user=self.user,
            site=self.site,
            why=values.pop("why", ""),
            values=values,
            accepted=self.accepts_broken_plan,
            expected_version=self.site.version,
        )
        return self.one(site_get(user=self.user, code=site), SiteShape)
