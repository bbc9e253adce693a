"""Celery tasks: ids in, a service called, safe to run twice."""

from celery import shared_task

from planner.services.plan_build_run import plan_build_run


@shared_task(name="planner.tasks.build_plan")
def build_plan(build_id: int) -> None:
    """Build the plan that was asked for."""
    plan_build_run(build_id=build_id)
