"""What must hold over the whole database, whatever was killed, and whenever."""

from planner.models import Plan, PlanBuild, Site
from planner.scheduling.verify import verify
from planner.selectors.plans import plan_content_get
from planner.services.audit import audit_chain_faults


def invariant_faults() -> list[str]:
    """Every fault: a plan that does not verify, a build and its plan at odds, a broken chain."""
    faults = [
        f"{site.code}: {fault}" for site in Site.objects.all() for fault in audit_chain_faults(site=site)
    ]
    for plan in Plan.objects.select_related("build"):
        content = plan_content_get(plan=plan)
        faults += [f"plan {plan.pk}: {breach.message}" for breach in verify(content.problem, content.plan)]
        if plan.build is not None and plan.build.state != "done":
            faults.append(f"plan {plan.pk} stands though its build is {plan.build.state}")
    without = PlanBuild.objects.filter(state="done", plan=None).values_list("pk", flat=True)
    return faults + [f"build {pk} is done and has no plan" for pk in without]
