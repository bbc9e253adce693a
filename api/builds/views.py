"""Plan builds: list, start, watch, cancel."""

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.builds.shapes import BuildShape, BuildStart, Why
from planner.domain.permissions import Action
from planner.selectors.plan_builds import plan_build_get, plan_build_list
from planner.services.plan_builds import plan_build_cancel, plan_build_start


class Builds(SiteView):
    """The builds of a site."""

    actions = {"GET": Action.SITE_READ, "POST": Action.PLAN_BUILD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="plan_build_list", responses=BuildShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """All builds, newest first."""
        return self.page(plan_build_list(user=self.user, site=self.site), BuildShape)

    @extend_schema(operation_id="plan_build_start", request=BuildStart, responses={201: BuildShape})
    def post(self, request: Request, site: str) -> Response:
        """Ask for a plan; a worker builds it, one at a time for each site."""
        return self.once(self._started)

    def _started(self) -> Response:
        build = plan_build_start(user=self.user, site=self.site, **self.sent(BuildStart))
        return self.one(build, BuildShape, status=201)


class OneBuild(SiteView):
    """One build."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="plan_build_get", responses=BuildShape)
    def get(self, request: Request, site: str, build: int) -> Response:
        """One build with its progress so far; ask again with If-None-Match to watch it."""
        return self.one(plan_build_get(user=self.user, site=self.site, build_id=build), BuildShape)


class BuildCancel(SiteView):
    """The end of one build before its time."""

    actions = {"POST": Action.PLAN_BUILD}

    @extend_schema(operation_id="plan_build_cancel", request=Why, responses=BuildShape)
    def post(self, request: Request, site: str, build: int) -> Response:
        """Stop a build; it keeps the best plan so far. Its progress moves, so no If-Match is asked for."""
        row = plan_build_get(user=self.user, site=self.site, build_id=build)
        plan_build_cancel(user=self.user, build=row, why=self.sent(Why)["why"])
        return self.one(plan_build_get(user=self.user, site=self.site, build_id=build), BuildShape)
