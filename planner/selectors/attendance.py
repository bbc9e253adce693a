"""Reading who attends what is hot, and what nobody attends."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Shift, Site, TyreWatch, User
from planner.selectors.access import require_on_site
from planner.selectors.floor_work import HotTyre, hot_tyres_of


@dataclass(frozen=True, slots=True, kw_only=True)
class AttendedTyre:
    """A hot tyre with its newest watch; `alarm` says why it counts as unattended, empty where it does not."""

    hot: HotTyre
    watch: TyreWatch | None
    alarm: str

    @property
    def is_attended(self) -> bool:
        """Whether somebody has signed on to it and is still on shift."""
        return not self.alarm

    @property
    def waits_for(self) -> str:
        """The code of whoever was asked to take it over; empty where nobody was."""
        return self.watch.handed_to.code if self.watch and self.watch.handed_to else ""


def attended_tyre_list(*, user: User, site: Site, now: datetime) -> list[AttendedTyre]:
    """Every tyre that is hot or under pressure, and whether somebody attends it at `now`."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return attended_tyres_of(site=site, now=now)


def attended_tyres_of(*, site: Site, now: datetime) -> list[AttendedTyre]:
    """The same for whoever was let in already, and for the clock."""
    hot = hot_tyres_of(site=site)
    if not hot:
        return []
    watches = TyreWatch.objects.filter(damage__in=[each.damage for each in hot])
    newest: dict[int, TyreWatch] = {}
    for watch in watches.select_related("technician", "handed_to"):
        newest.setdefault(watch.damage_id, watch)
    shifts = list(Shift.objects.filter(site=site, technician__in=[w.technician_id for w in newest.values()]))
    return [
        AttendedTyre(
            hot=each, watch=newest.get(each.damage), alarm=_alarm(newest.get(each.damage), shifts, now)
        )
        for each in hot
    ]


def watch_is_lapsed(*, watch: TyreWatch, now: datetime) -> bool:
    """Whether the attendant's shift has ended, so that the watch no longer counts though nobody ended it."""
    shifts = list(Shift.objects.filter(site=watch.site_id, technician=watch.technician_id))
    return _shift_is_over(watch, shifts, now)


def _alarm(watch: TyreWatch | None, shifts: Sequence[Shift], now: datetime) -> str:
    if watch is None:
        return _("nobody has signed on to attend it")
    if watch.signed_off_at is not None:
        after = _not_taken_over(watch) or _("nobody attends it")
        return _("{technician} has signed off and {after}", technician=watch.technician, after=after)
    if _shift_is_over(watch, shifts, now):
        after = _not_taken_over(watch) or _("it was not handed over")
        return _("the shift of {technician} is over and {after}", technician=watch.technician, after=after)
    return ""


def _not_taken_over(watch: TyreWatch) -> str:
    return _("{handed_to} has not taken it over", handed_to=watch.handed_to) if watch.handed_to else ""


def _shift_is_over(watch: TyreWatch, shifts: Sequence[Shift], now: datetime) -> bool:
    """Whether the shift ended in which they signed on; who signed on off shift was called in, and counts."""
    own = [shift for shift in shifts if shift.technician_id == watch.technician_id]
    began_in = [shift for shift in own if shift.starts_at <= watch.signed_on_at < shift.ends_at]
    goes_on = any(shift.starts_at <= now < shift.ends_at for shift in own)
    return bool(began_in) and not goes_on
