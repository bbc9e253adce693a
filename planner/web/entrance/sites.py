"""The way to a site: straight there for who has one, a choice for who has more."""

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from planner.selectors.memberships import membership_list
from planner.web.here import signed_in_user


@login_required
def home(request: HttpRequest) -> HttpResponse:
    """The first page after signing in."""
    memberships = membership_list(user=signed_in_user(request))
    if len(memberships) == 1:
        return redirect("today", memberships[0].site.code)
    return redirect("site_choice")


@login_required
def site_choice(request: HttpRequest) -> HttpResponse:
    """The reader's own sites, and nobody else's."""
    memberships = membership_list(user=signed_in_user(request))
    return render(request, "entrance/site_choice.html", {"memberships": memberships})
