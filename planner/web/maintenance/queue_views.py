"""Keep a view of the queue under a name, and remove it."""

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from planner.domain.permissions import Action
from planner.services.queue_views import queue_view_keep, queue_view_remove
from planner.web.here import Here, site_page
from planner.web.maintenance.queue_filter import QueueFilter


@require_POST
@site_page(Action.SITE_READ)
def keep(request: HttpRequest, here: Here) -> HttpResponse:
    """Keep what is shown just now."""
    wanted = QueueFilter(request.POST).wanted()
    queue_view_keep(user=here.user, site=here.site, name=request.POST.get("name", "")[:40], wanted=wanted)
    return redirect(f"{reverse('queue', args=[here.site.code])}?{urlencode(wanted)}")


@require_POST
@site_page(Action.SITE_READ)
def remove(request: HttpRequest, here: Here, view_id: int) -> HttpResponse:
    """Remove one."""
    queue_view_remove(user=here.user, site=here.site, view_id=view_id)
    return redirect("queue", here.site.code)
