"""Reading the building of plans."""

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.states import PlanBuildState
from planner.models import PlanBuild, Site, User
from planner.selectors.access import require_on_site


def plan_build_list(*, user: User, site: Site) -> QuerySet[PlanBuild]:
    """All builds, newest first, with who asked for them and their plans."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return PlanBuild.objects.filter(site=site).select_related("requested_by", "plan")


def plan_build_get(*, user: User, site: Site, build_id: int) -> PlanBuild:
    """One build with its progress; NotFoundError where the site has none with this id."""
    build = plan_build_list(user=user, site=site).filter(pk=build_id).first()
    if build is None:
        raise NotFoundError(_("there is no plan build {build_id} on {site}", build_id=build_id, site=site))
    return build


def plan_build_open_get(*, user: User, site: Site) -> PlanBuild | None:
    """The build that is queued or running; None where there is none."""
    open_states = [PlanBuildState.QUEUED, PlanBuildState.RUNNING]
    return plan_build_list(user=user, site=site).filter(state__in=open_states).first()
