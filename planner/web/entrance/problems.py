"""What went wrong lately: a published plan that no longer holds, and what the crew told from the floor."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from planner.selectors.audit_events import audit_event_list
from planner.selectors.nouns import AuditEvent, Plan, WorkOrder
from planner.selectors.plans import plan_content_get
from planner.web.here import Here
from planner.web.supervisor.breach_words import breach_words
from planner.web.supervisor.naming import names_get

_ROWS = 8
_TOLD_LATELY = timedelta(days=3)


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """An event with its reason as the bay says it, and the number of its order."""

    event: AuditEvent
    why: str
    number: int | None = None

    @property
    def is_broken(self) -> bool:
        """Whether the published plan no longer holds."""
        return bool(self.event.action == "plan_broken")


def problem_list(here: Here, plan: Plan | None, orders: Sequence[WorkOrder], now: datetime) -> list[Problem]:
    """The broken plan first, then the floor's, the newest on top."""
    numbers = {str(order.pk): order.number for order in orders}
    events = audit_event_list(user=here.user, site=here.site)
    told = events.filter(action="stage_problem", at__gte=now - _TOLD_LATELY)[:_ROWS]
    of_floor = [Problem(event=each, why=each.why, number=numbers.get(each.noun_id)) for each in told]
    return [*_broken(here, plan), *of_floor]


def _broken(here: Here, plan: Plan | None) -> list[Problem]:
    """Changes of the bay that the published plan does not survive, with the bay's names and clock."""
    if plan is None or plan.published_at is None:
        return []
    events = audit_event_list(user=here.user, site=here.site)
    found = list(events.filter(action="plan_broken", at__gte=plan.published_at)[:_ROWS])
    if not found:
        return []
    problem = plan_content_get(plan=plan).problem
    names = names_get(here, problem)
    return [Problem(event=each, why=breach_words(each.why, names)) for each in found]
