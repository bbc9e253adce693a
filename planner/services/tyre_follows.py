"""Following a tyre, and no longer."""

from django.utils import timezone

from planner.domain.permissions import Action
from planner.models import Tyre, TyreFollow, User
from planner.selectors.access import require_on_site
from planner.services.rows import row_add, row_remove


def tyre_follow(*, user: User, tyre: Tyre) -> TyreFollow:
    """Tell the user from now on when the promise of the tyre's repair changes; again changes nothing."""
    require_on_site(user=user, site=tyre.site, action=Action.SITE_READ)
    known = TyreFollow.objects.filter(user=user, tyre=tyre).first()
    if known is not None:
        return known
    row = TyreFollow(site=tyre.site, user=user, tyre=tyre, since=timezone.now())
    row_add(user=user, site=tyre.site, row=row, action="tyre_follow")
    return row


def tyre_unfollow(*, user: User, tyre: Tyre) -> None:
    """Tell the user no longer; nothing where they did not follow it."""
    require_on_site(user=user, site=tyre.site, action=Action.SITE_READ)
    row = TyreFollow.objects.filter(user=user, tyre=tyre).first()
    if row is not None:
        row_remove(user=user, site=tyre.site, row=row, action="tyre_unfollow")
