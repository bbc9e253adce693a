"""Reading one's own notices, whom a tyre concerns, and how somebody wants to be told."""

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Notice, NoticeChoice, Site, Tyre, TyreFollow, User
from planner.selectors.access import require_on_site


def notice_list(*, user: User, site: Site) -> QuerySet[Notice]:
    """The user's own notices of the site, newest first, with their orders."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return Notice.objects.filter(user=user, site=site).select_related("work_order")


def notice_get(*, user: User, site: Site, notice_id: int) -> Notice:
    """One of the user's own; NotFoundError for any other."""
    row = notice_list(user=user, site=site).filter(pk=notice_id).first()
    if row is None:
        raise NotFoundError(_("there is no notice {notice_id} for you", notice_id=notice_id))
    return row


def unread_count(*, user: User, site: Site) -> int:
    """How many the user has not read."""
    return Notice.objects.filter(user=user, site=site, read_at__isnull=True).count()


def follow_list(*, user: User, site: Site) -> QuerySet[TyreFollow]:
    """The tyres that the user follows here, the latest first."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return TyreFollow.objects.filter(user=user, site=site).select_related("tyre")


def is_following(*, user: User, tyre: Tyre) -> bool:
    """Whether the user follows the tyre."""
    return TyreFollow.objects.filter(user=user, tyre=tyre).exists()


def wants_mail(*, user: User, site: Site) -> bool:
    """Whether notices reach the user by e-mail too."""
    return not NoticeChoice.objects.filter(user=user, site=site, by_mail=False).exists()
