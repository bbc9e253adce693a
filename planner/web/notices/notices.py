"""The reader's own notices."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.permissions import Action
from planner.selectors.notices import follow_list, notice_list, wants_mail
from planner.services.notices import notice_choose, notice_read, notices_read_all
from planner.web.here import Here, show, site_page, tell

_ROWS_ON_A_PAGE = 25


@site_page(Action.SITE_READ)
def notices(request: HttpRequest, here: Here) -> HttpResponse:
    """Newest first; new ones are marked."""
    rows = notice_list(user=here.user, site=here.site)
    page = Paginator(rows, _ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    return show(
        request, here, "notices/notices.html", "notices", page=page, query="",
        follows=follow_list(user=here.user, site=here.site),
        by_mail=wants_mail(user=here.user, site=here.site),
    )  # fmt: skip


@require_POST
@site_page(Action.SITE_READ)
def opened(request: HttpRequest, here: Here, notice_id: int) -> HttpResponse:
    """Mark one as read and go to what it is about."""
    row = notice_read(user=here.user, site=here.site, notice_id=notice_id)
    if row.work_order is None:
        return redirect("notices", here.site.code)
    return redirect("work_order", here.site.code, row.work_order.number)


@require_POST
@site_page(Action.SITE_READ)
def read_all(request: HttpRequest, here: Here) -> HttpResponse:
    """Mark all as read."""
    notices_read_all(user=here.user, site=here.site)
    return redirect("notices", here.site.code)


@require_POST
@site_page(Action.SITE_READ)
def choose(request: HttpRequest, here: Here) -> HttpResponse:
    """By e-mail too, or not."""
    by_mail = request.POST.get("by_mail") == "yes"
    notice_choose(user=here.user, site=here.site, by_mail=by_mail)
    tell(request, _("Notices come by e-mail too.") if by_mail else _("Notices stay in the app."))
    return redirect("notices", here.site.code)
