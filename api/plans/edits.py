"""Changing a draft by hand; every change is checked, and makes a new draft."""

from collections.abc import Callable
from typing import ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.plans.shapes import JobName, PlanMove, PlanShape
from api.plans.views import plan_of
from planner.domain.permissions import Action
from planner.selectors.nouns import Plan
from planner.services import plan_edit


class DraftEdit(SiteView):
    """One kind of change of a draft."""

    actions = {"POST": Action.PLAN_BUILD}
    matched = frozenset({"POST"})

    def changed(self, plan: int, change: Callable[[Plan], Plan]) -> Response:
        """The new draft, with the address of its own."""
        draft = plan_of(self, plan)
        self.refuse_unmatched(draft, PlanShape)
        return self.one(change(draft), PlanShape, status=201)


class DraftMove(DraftEdit):
    """Moving work in a draft."""

    @extend_schema(operation_id="plan_move", request=PlanMove, responses={201: PlanShape})
    def post(self, request: Request, site: str, plan: int) -> Response:
        """Move a stage or its heat block; 422 names every rule that the move would break."""
        return self.changed(
            plan,
            lambda draft: plan_edit.plan_move(
                user=self.user, draft=draft, move=plan_edit.Move(**self.sent(PlanMove))
            ),
        )


class JobEdit(DraftEdit):
    """A change of a draft that names one job."""

    service: ClassVar[Callable[..., Plan]]

    def job_changed(self, plan: int) -> Response:
        """The new draft."""
        return self.changed(
            plan, lambda draft: type(self).service(user=self.user, draft=draft, **self.sent(JobName))
        )


class DraftLock(JobEdit):
    """Fixing a job."""

    service = plan_edit.plan_lock

    @extend_schema(operation_id="plan_lock", request=JobName, responses={201: PlanShape})
    def post(self, request: Request, site: str, plan: int) -> Response:
        """Fix a job where it stands."""
        return self.job_changed(plan)


class DraftUnlock(JobEdit):
    """Freeing a job."""

    service = plan_edit.plan_unlock

    @extend_schema(operation_id="plan_unlock", request=JobName, responses={201: PlanShape})
    def post(self, request: Request, site: str, plan: int) -> Response:
        """Let a job move again, but for what was begun before the plan's days."""
        return self.job_changed(plan)


class DraftLeaveOut(JobEdit):
    """Taking a job out."""

    service = plan_edit.plan_leave_out

    @extend_schema(operation_id="plan_leave_out", request=JobName, responses={201: PlanShape})
    def post(self, request: Request, site: str, plan: int) -> Response:
        """Take a job out of the plan, with what waits for it."""
        return self.job_changed(plan)


class DraftPutFirst(JobEdit):
    """Putting a job first."""

    service = plan_edit.plan_put_first

    @extend_schema(operation_id="plan_put_first", request=JobName, responses={201: PlanShape})
    def post(self, request: Request, site: str, plan: int) -> Response:
        """Give a job the earliest place that it can have."""
        return self.job_changed(plan)
