"""Reading who could take over a tyre that is hot."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from planner.models import Shift, Site, Technician, User
from planner.selectors.resources import technician_list

_NEXT = timedelta(hours=2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Attendants:
    """Everybody at work: `ready` have the skill of the watch, and a shift now or within two hours."""

    ready: tuple[Technician, ...]
    others: tuple[Technician, ...]

    def of_user(self, user: User) -> Technician | None:
        """The technician that the user is; None where they are none."""
        return next((each for each in (*self.ready, *self.others) if each.user_id == user.pk), None)


def attendants_get(*, user: User, site: Site, now: datetime) -> Attendants:
    """The technicians of the site, those first who would be asked first."""
    shifts = Shift.objects.filter(site=site, starts_at__lte=now + _NEXT, ends_at__gt=now)
    on_shift = set(shifts.values_list("technician", flat=True))
    people = list(technician_list(user=user, site=site))
    ready = {each.pk for each in people if each.pk in on_shift and _attends(each, site)}
    return Attendants(
        ready=tuple(each for each in people if each.pk in ready),
        others=tuple(each for each in people if each.pk not in ready),
    )


def _attends(person: Technician, site: Site) -> bool:
    return any(skill.code == site.watch_skill for skill in person.skills.all())
