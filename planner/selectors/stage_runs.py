"""Reading what was really done."""

from django.db.models import QuerySet

from planner.domain.permissions import Action
from planner.models import Site, StageRun, User, WorkOrder
from planner.selectors.access import require_on_site


def stage_run_list(*, user: User, site: Site, work_order: WorkOrder | None = None) -> QuerySet[StageRun]:
    """Stages begun or done, of one work order or of all, with technicians, position and set."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    runs = StageRun.objects.filter(site=site).select_related("work_order", "position", "heater_set")
    runs = runs.prefetch_related("technicians")
    return runs if work_order is None else runs.filter(work_order=work_order)
