"""Reading plans: the one that holds, drafts, earlier versions and what stands in them."""

from dataclasses import dataclass
from functools import lru_cache

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.plan import BayPlan
from planner.domain.problem import BayProblem
from planner.domain.sentences import _
from planner.domain.states import PlanState
from planner.models import Plan, Site, User
from planner.scheduling.plan_format import plan_read
from planner.scheduling.problem_format import problem_read
from planner.scheduling.verify import verify
from planner.selectors.access import require_on_site


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanContent:
    """A stored plan with the problem that it answers."""

    problem: BayProblem
    plan: BayPlan


def plan_list(*, user: User, site: Site) -> QuerySet[Plan]:
    """All plans but dropped drafts, newest first, with who made and published them, without their JSON."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    plans = Plan.objects.filter(site=site).exclude(state=PlanState.DROPPED)
    return plans.select_related("made_by", "published_by").defer("problem_json", "plan_json")


def plan_get(*, user: User, site: Site, plan_id: int) -> Plan:
    """One plan; NotFoundError where the site has none with this id."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    plan = Plan.objects.filter(site=site, pk=plan_id).select_related("made_by", "published_by").first()
    if plan is None:
        raise NotFoundError(_("there is no plan {plan_id} on {site}", plan_id=plan_id, site=site))
    return plan


def plan_published_get(*, user: User, site: Site) -> Plan | None:
    """The published plan that holds now; None before the first."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    plans = Plan.objects.filter(site=site, state=PlanState.PUBLISHED)
    return plans.select_related("made_by", "published_by").first()


def plan_draft_get(*, user: User, site: Site) -> Plan | None:
    """The newest draft; None where there is none."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    plans = Plan.objects.filter(site=site, state=PlanState.DRAFT)
    return plans.select_related("made_by", "published_by").first()


def plan_in_work_get(*, user: User, site: Site) -> Plan | None:
    """What the supervisor works with: the newest draft, or the published plan where that is newer."""
    draft, published = plan_draft_get(user=user, site=site), plan_published_get(user=user, site=site)
    if draft and published and published.published_at and published.published_at > draft.made_at:
        return published
    return draft or published


def plan_content_get(*, plan: Plan) -> PlanContent:
    """The domain's own values of a stored plan and its problem, read once for the same two texts."""
    return _content_of(plan.problem_json, plan.plan_json)


# Frozen values that follow from the whole texts alone: a changed text is another key, and read again.
@lru_cache(maxsize=8)
def _content_of(problem_json: str, plan_json: str) -> PlanContent:
    problem = problem_read(problem_json.encode()).problem
    return PlanContent(problem=problem, plan=plan_read(plan_json.encode(), problem))


def plan_breaches_get(*, plan: Plan) -> tuple[str, ...]:
    """Every rule that a stored plan breaks, in plain words: none, unless somebody changed its texts."""
    content = plan_content_get(plan=plan)
    breaches = verify(content.problem, content.plan, sha256=plan.problem_sha256)
    return tuple(breach.message for breach in breaches)
