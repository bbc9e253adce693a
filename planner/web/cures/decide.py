"""A person decides on a logged cure and signs."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.selectors.cure_logs import logged_cure_get
from planner.services.logged_cures import cure_decision_sign
from planner.web.here import Here, site_page, tell


@require_POST
@site_page(Action.WORK_ORDER_DECIDE)
def decide(request: HttpRequest, here: Here, number: int, log_id: int) -> HttpResponse:
    """Sign: the cure is accepted, or it is not, with the reason."""
    logged = logged_cure_get(user=here.user, site=here.site, number=number, log_id=log_id)
    choice = request.POST.get("decision", "")
    if choice not in ("accepted", "rejected"):
        raise InvalidValueError(_("Say whether the cure is accepted or rejected."))
    cure_decision_sign(
        user=here.user, logged_cure=logged, accepted=choice == "accepted",
        reason=request.POST.get("reason", ""),
    )  # fmt: skip
    tell(request, _("Your decision is signed. A later one would stand beside it; nothing signed changes."))
    return redirect("cure_logs", here.site.code, number)
