"""What publishing a draft would tell whom: a part of the dialog that asks before publishing."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from planner.domain.permissions import Action
from planner.selectors.plans import plan_get
from planner.selectors.promise_changes import PromiseChange
from planner.selectors.publication import publication_get
from planner.services.promise_notices import change_title
from planner.web.here import Here, show, site_page


@dataclass(frozen=True, slots=True, kw_only=True)
class Telling:
    """One change in words, and who hears of it."""

    change: PromiseChange
    words: str
    who: str


@site_page(Action.PLAN_PUBLISH)
def tells(request: HttpRequest, here: Here, plan_id: int) -> HttpResponse:
    """Followers, crew, other programs and calendars; of the promises what gets later first."""
    draft = plan_get(user=here.user, site=here.site, plan_id=plan_id)
    publication = publication_get(user=here.user, site=here.site, draft=draft)
    tellings = [
        Telling(
            change=change,
            words=change_title(change),
            who=", ".join(user.get_full_name() or user.get_username() for user in change.followers),
        )
        for change in sorted(publication.promises, key=lambda each: not each.is_later)
    ]
    return show(request, here, "notices/tellings.html", tellings=tellings, publication=publication)
