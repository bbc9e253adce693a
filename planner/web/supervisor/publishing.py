"""Publish a draft, or put it away."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import ConflictError
from planner.domain.permissions import Action
from planner.selectors.plans import plan_get
from planner.services.plans import plan_drop, plan_publish
from planner.web.here import Here, site_page, tell


@require_POST
@site_page(Action.PLAN_PUBLISH)
def publish(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """Freeze the draft as the plan that holds; `expected` is the version that the reader saw.

    Where somebody was quicker, the reader comes back to the draft, set beside what was published.
    """
    row = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    expected = request.POST.get("expected", "")
    try:
        published = plan_publish(
            user=here.user, plan=row, expected_number=int(expected) if expected.isdecimal() else None,
            why=request.POST.get("why", ""),
        )  # fmt: skip
    except ConflictError as overtaken:
        messages.warning(request, str(overtaken))
        return redirect(reverse("plan_shown", args=[here.site.code, row.pk]) + "?compare=yes")
    tell(
        request,
        _("Plan %(number)s holds now. Print the shift sheets for the crew.") % {"number": published.number},
    )
    return redirect("plan_shown", here.site.code, published.pk)


@require_POST
@site_page(Action.PLAN_BUILD)
def drop(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """Put the draft away."""
    plan_drop(user=here.user, plan=plan_get(user=here.user, site=here.site, plan_id=plan_id))
    tell(request, _("The draft is put away."))
    return redirect("plan", here.site.code)
