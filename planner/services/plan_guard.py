"""A change of the bay that would break the published plan says so before it is accepted."""

from collections.abc import Callable
from datetime import datetime
from typing import TypeVar

from django.db import transaction
from django.utils import timezone

from planner.domain.breach import Breach
from planner.domain.errors import ConflictError
from planner.domain.sentences import _
from planner.models import Plan, Site, User
from planner.selectors.plan_in_bay import PlanInBay, plan_in_bay_get
from planner.services.alarm_notices import plan_broken_tell
from planner.services.audit import audit_event_add

_Done = TypeVar("_Done")
_NAMED = 5


class PlanBreaksError(ConflictError):
    """The change was not made: it would break the published plan; `breaches` says how."""

    def __init__(self, held: PlanInBay, breaches: tuple[Breach, ...]) -> None:
        self.held = held
        self.breaches = breaches
        tyres = ", ".join(jobs_of(breaches)) or _("no single tyre")
        super().__init__(
            _(
                "nothing was changed: {plan} would break {count} rules ({tyres}), the first: {message}",
                plan=held.plan,
                count=len(breaches),
                tyres=tyres,
                message=breaches[0].message,
            )
        )

    @property
    def plan(self) -> Plan:
        """The published plan."""
        return self.held.plan


def plan_guarded(*, user: User, site: Site, accepted: bool, change: Callable[[], _Done]) -> _Done:
    """Make a change; taken back with PlanBreaksError where it breaks the published plan and isn't `accepted`.

    The plan is held against the bay before and after, so that only what the change breaks counts. Where it is
    accepted, the supervisors are told which tyres and rules.
    """
    now = timezone.now()
    with transaction.atomic():
        before = plan_in_bay_get(user=user, site=site, now=now)
        done = change()
        broken = broken_since(user=user, site=site, before=before, now=now)
        if broken is not None and not accepted:
            raise broken
        if broken is not None:
            broken_tell(user=user, site=site, error=broken)
    return done


def broken_since(
    *, user: User, site: Site, before: PlanInBay | None, now: datetime
) -> PlanBreaksError | None:
    """What the published plan breaks now beyond what it broke `before`; None where that is nothing.

    A plan that was published since broke nothing before.
    """
    after = plan_in_bay_get(user=user, site=Site.objects.get(pk=site.pk), now=now)
    if after is None:
        return None
    known = set() if before is None or before.plan != after.plan else {str(each) for each in before.breaches}
    broken = tuple(each for each in after.breaches if str(each) not in known)
    return PlanBreaksError(after, broken) if broken else None


def jobs_of(breaches: tuple[Breach, ...]) -> list[str]:
    """The jobs that the breaches name, each once."""
    return sorted({breach.job for breach in breaches if breach.job})


def broken_tell(*, user: User, site: Site, error: PlanBreaksError) -> None:
    """On record, on the first page of every supervisor and among their notices."""
    broken = error.breaches
    more = _(" and {count} more", count=len(broken) - _NAMED) if len(broken) > _NAMED else ""
    event = audit_event_add(
        site=site,
        user=user,
        action="plan_broken",
        row=error.plan,
        what=f"{error.plan} no longer holds: {', '.join(jobs_of(broken)) or 'its watch'}",
        why="; ".join(breach.message for breach in broken[:_NAMED])[:280] + more,
        details={"breaches": [str(breach) for breach in broken[:200]]},
    )
    plan_broken_tell(site=site, event=event)
