"""Reading why planned tyres are late: reckoned once for each stored plan, whose content never changes."""

from django.core.cache import cache

from planner.domain.plan import Reason
from planner.models import Plan
from planner.selectors.plans import plan_content_get
from planner.solver.reasons import late_reasons_for


def late_reasons_get(*, plan: Plan) -> dict[str, tuple[Reason, ...]]:
    """What keeps each late tyre of the plan from being ready sooner, by its job."""
    key = f"late_reasons:{plan.pk}:{plan.problem_sha256}:{plan.version}"
    found: dict[str, tuple[Reason, ...]] | None = cache.get(key)
    if found is None:
        content = plan_content_get(plan=plan)
        found = late_reasons_for(content.problem, content.plan.schedule)
        cache.set(key, found, timeout=None)
    return found
