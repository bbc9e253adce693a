"""Attending what is hot: signed on and off by name, handed over and taken over by name."""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError, NotFoundError
from planner.domain.permissions import Action, Role
from planner.domain.sentences import _
from planner.models import Damage, Site, Technician, TyreWatch, User
from planner.selectors.access import require_on_site, role_get
from planner.selectors.attendance import watch_is_lapsed
from planner.services.audit import audit_event_add
from planner.services.rows import row_add


def watch_sign_on(
    *, user: User, site: Site, damage_id: int, technician: str, now: datetime | None = None
) -> TyreWatch:
    """Record that a technician attends the tyre from now on; signing on twice changes nothing.

    A watch whose shift is over no longer counts: whoever stands at the tyre, its attendant among them, signs
    on anew. Raises ConflictError where another still attends it, who has to hand it over, or where the
    technician attends as many tyres as the site allows; NotAllowedError without the skill of the watch.
    """
    person = _person(user, site, technician)
    _refuse_unskilled(site, person)
    at = now or timezone.now()
    with transaction.atomic():
        damage = _damage(site, damage_id)
        current = _open(damage)
        if current is not None and not watch_is_lapsed(watch=current, now=at):
            if current.technician_id == person.pk:
                return current
            if current.handed_to_id != person.pk:
                raise ConflictError(
                    _(
                        "{technician} attends it: they hand it over, or sign off, first",
                        technician=current.technician,
                    )
                )
        if current is not None:
            at = max(at, current.signed_on_at)  # a tap that came late never runs before the watch it ends
            current.signed_off_at = at
            current.save(update_fields=["signed_off_at"])
        _refuse_too_many(site, person)
        watch = TyreWatch(site=site, damage=damage, technician=person, signed_on_at=at)
        row_add(user=user, site=site, row=watch, action="watch_sign_on")
    return watch


def watch_sign_off(*, user: User, site: Site, damage_id: int, now: datetime | None = None) -> None:
    """Record that the attendant leaves the tyre; from then on it is unattended until somebody signs on."""
    watch = _attended(user, site, damage_id)
    _person(user, site, watch.technician.code)
    with transaction.atomic():
        watch.signed_off_at = max(now or timezone.now(), watch.signed_on_at)
        watch.save(update_fields=["signed_off_at"])
        audit_event_add(site=site, user=user, action="watch_sign_off", row=watch, what=f"signed off: {watch}")


def watch_hand_over(*, user: User, site: Site, damage_id: int, to: str) -> None:
    """Ask somebody to take the tyre over; the attendant stays until they accept by their own name."""
    watch = _attended(user, site, damage_id)
    _person(user, site, watch.technician.code)
    person = _technician(site, to)
    if person.pk == watch.technician_id:
        raise InvalidValueError(_("{person} attends it already: name somebody else", person=person))
    _refuse_unskilled(site, person)
    with transaction.atomic():
        watch.handed_to = person
        watch.save(update_fields=["handed_to"])
        audit_event_add(
            site=site, user=user, action="watch_hand_over", row=watch,
            what=f"asked {person} to take over: {watch}",
        )  # fmt: skip


def watch_end_unneeded(*, user: User, damage: Damage, at: datetime) -> None:
    """End the watch over a tyre that is no longer hot, where there is one; whoever may was asked already."""
    watch = _open(damage)
    if watch is not None:
        watch.signed_off_at = max(at, watch.signed_on_at)
        watch.save(update_fields=["signed_off_at"])
        audit_event_add(
            site=damage.site, user=user, action="watch_sign_off", row=watch,
            what=f"no longer hot: {watch}",
        )  # fmt: skip


def _person(user: User, site: Site, code: str) -> Technician:
    """The technician, who is the user: only a supervisor signs for others."""
    require_on_site(user=user, site=site, action=Action.WORK_RECORD)
    person = _technician(site, code)
    if person.user_id != user.pk and role_get(user=user, site=site) is not Role.SUPERVISOR:
        raise NotAllowedError(_("only {person} or a supervisor may sign for {person}", person=person))
    return person


def _technician(site: Site, code: str) -> Technician:
    person = Technician.objects.filter(site=site, code=code, active=True).first()
    if person is None:
        raise NotFoundError(_("there is no technician {code} on {site}", code=code, site=site))
    return person


def _damage(site: Site, damage_id: int) -> Damage:
    damage = Damage.objects.select_for_update().filter(site=site, pk=damage_id).first()
    if damage is None:
        raise NotFoundError(_("that injury is not on record here: load the page again"))
    return damage


def _open(damage: Damage) -> TyreWatch | None:
    watches = TyreWatch.objects.filter(damage=damage, signed_off_at__isnull=True)
    return watches.select_related("technician").first()


def _attended(user: User, site: Site, damage_id: int) -> TyreWatch:
    require_on_site(user=user, site=site, action=Action.WORK_RECORD)
    watch = TyreWatch.objects.filter(site=site, damage=damage_id, signed_off_at__isnull=True)
    found = watch.select_related("technician").first()
    if found is None:
        raise ConflictError(_("nobody is signed on to it: load the page again"))
    return found


def _refuse_unskilled(site: Site, person: Technician) -> None:
    """A plan gives the watch to nobody without its skill, and neither does the floor."""
    if not person.skills.filter(code=site.watch_skill).exists():
        raise NotAllowedError(
            _(
                "{person} may not attend a cure: the skill of the watch here is {watch_skill}. Stay "
                "with the tyre and call somebody who has it",
                person=person,
                watch_skill=site.watch_skill,
            )
        )


def _refuse_too_many(site: Site, person: Technician) -> None:
    attended = TyreWatch.objects.filter(site=site, technician=person, signed_off_at__isnull=True).count()
    if attended >= site.cures_per_attendant:
        raise ConflictError(
            _(
                "{person} attends {attended} already, which is all that one may attend here",
                person=person,
                attended=attended,
            )
        )
