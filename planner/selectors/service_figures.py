"""Figures of the whole service for whoever runs it: counts and times, nothing of any one tyre or person."""

from dataclasses import dataclass
from datetime import datetime

from django.db.models import Count, Min, Sum
from django.utils import timezone

from planner.domain.states import PlanBuildState
from planner.domain.webhooks import DeliveryState
from planner.models import PlanBuild, TyreAlarm, WebhookDelivery


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceFigures:
    """How the building of plans stands, over all sites."""

    unattended_tyres: int
    """Hot tyres that nobody attends, as the clock saw it last."""
    webhooks_waiting: int
    webhooks_given_up: int
    queue_age_seconds: float
    """Since the oldest queued build was asked for; 0 where none waits."""
    silent_seconds: float
    """Since the running build that has been silent longest said anything; 0 where none runs."""
    builds: dict[str, int]
    """Builds ever asked for, by the state in which they are."""
    solves: int
    solve_seconds: float
    """Builds that ended in a plan, and the seconds that they took together."""
    last_gaps: dict[str, float]
    """By site: what share of its newest plan's lateness is not proved to be unavoidable, 0 to 1."""


def service_figures_get() -> ServiceFigures:
    """The figures of this moment; the operator's, so no site's roles apply."""
    now = timezone.now()
    done = PlanBuild.objects.filter(state=PlanBuildState.DONE)
    solved = done.aggregate(solves=Count("pk"), seconds=Sum("elapsed_seconds"))
    return ServiceFigures(
        unattended_tyres=TyreAlarm.objects.filter(ended_at__isnull=True).count(),
        webhooks_waiting=WebhookDelivery.objects.filter(state=DeliveryState.WAITING).count(),
        webhooks_given_up=WebhookDelivery.objects.filter(state=DeliveryState.GIVEN_UP).count(),
        queue_age_seconds=_age(PlanBuildState.QUEUED, "requested_at", now),
        silent_seconds=_age(PlanBuildState.RUNNING, "progress_at", now),
        builds={state.value: 0 for state in PlanBuildState} | _counts(),
        solves=solved["solves"],
        solve_seconds=solved["seconds"] or 0.0,
        last_gaps=_last_gaps(),
    )


def _age(state: PlanBuildState, column: str, now: datetime) -> float:
    oldest = PlanBuild.objects.filter(state=state).aggregate(oldest=Min(column))["oldest"]
    return 0.0 if oldest is None else max(0.0, (now - oldest).total_seconds())


def _counts() -> dict[str, int]:
    return dict(PlanBuild.objects.order_by().values_list("state").annotate(Count("pk")))


def _last_gaps() -> dict[str, float]:
    """One look-up for each site that ever planned; the index of a site's builds serves it."""
    done = PlanBuild.objects.filter(state=PlanBuildState.DONE).order_by("-ended_at")
    sites = done.order_by("site").values_list("site", flat=True).distinct()
    newest = (done.filter(site=site).values_list("site__code", "lateness", "bound").first() for site in sites)
    return {code: _gap(lateness or 0, bound) for code, lateness, bound in filter(None, newest)}


def _gap(lateness: int, bound: int) -> float:
    return max(0.0, (lateness - bound) / lateness) if lateness else 0.0
