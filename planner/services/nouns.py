"""Adding, changing and removing whatever an administrator keeps: one door for pages, API and admin."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.db import models, transaction

from planner import models as nouns
from planner.domain.errors import ConflictError, InvalidValueError, NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Site, User
from planner.selectors.access import require_on_site
from planner.services.rows import row_add, row_change, row_remove
from planner.services.sessions import sessions_end


@dataclass(frozen=True, slots=True, kw_only=True)
class Noun:
    """A kind of row: who may change it, and the field that leads to its site where it has none itself."""

    model: type[models.Model]
    action: Action
    parent: str = ""


def _noun(model: type[models.Model], action: Action, parent: str = "") -> tuple[str, Noun]:
    return str(model._meta.model_name), Noun(model=model, action=action, parent=parent)


NOUNS: Mapping[str, Noun] = dict(
    (
        _noun(nouns.Skill, Action.RESOURCE_CHANGE),
        _noun(nouns.Technician, Action.RESOURCE_CHANGE),
        _noun(nouns.PositionKind, Action.RESOURCE_CHANGE),
        _noun(nouns.Position, Action.RESOURCE_CHANGE),
        _noun(nouns.HeaterSet, Action.RESOURCE_CHANGE),
        _noun(nouns.HeaterSetFit, Action.RESOURCE_CHANGE, "heater_set"),
        _noun(nouns.HeaterSetPart, Action.RESOURCE_CHANGE),
        _noun(nouns.Machine, Action.RESOURCE_CHANGE),
        _noun(nouns.MachinePosition, Action.RESOURCE_CHANGE),
        _noun(nouns.RosterPattern, Action.ROSTER_CHANGE),
        _noun(nouns.PatternBreak, Action.ROSTER_CHANGE, "pattern"),
        _noun(nouns.RosterException, Action.ROSTER_CHANGE),
        _noun(nouns.Closure, Action.CLOSURE_CHANGE),
        _noun(nouns.Isolation, Action.CLOSURE_CHANGE),
        _noun(nouns.SizeClass, Action.ROUTE_CHANGE),
        _noun(nouns.Route, Action.ROUTE_CHANGE),
        _noun(nouns.RouteStage, Action.ROUTE_CHANGE, "route"),
        _noun(nouns.DamageLimit, Action.ROUTE_CHANGE),
        _noun(nouns.Material, Action.ROUTE_CHANGE),
        _noun(nouns.MaterialLot, Action.LOT_RECEIVE),
        _noun(nouns.CureChartLine, Action.ROUTE_CHANGE),
        _noun(nouns.ZoneCure, Action.ROUTE_CHANGE),
        _noun(nouns.CureLimitRow, Action.ROUTE_CHANGE),
        _noun(nouns.SiteMembership, Action.MEMBER_CHANGE),
    )
)


def noun_add(*, user: User, site: Site, noun: str, values: Mapping[str, Any], why: str = "") -> models.Model:
    """Add a row of `noun` (a model's name in small letters) to the site.

    `values` are its fields by name, with lists for many-to-many ones.
    """
    kind = _kind(noun)
    require_on_site(user=user, site=site, action=kind.action)
    plain, many = _split(kind, values)
    row = kind.model(**({} if kind.parent else {"site": site}), **plain)
    _refuse_other_site(kind, row, site)
    with transaction.atomic():
        row_add(user=user, site=site, row=row, action=f"{noun}_add", why=why)
        _set_many(row, many, site)
    return row


def noun_change(
    *,
    user: User,
    site: Site,
    noun: str,
    row_id: int,
    values: Mapping[str, Any],
    why: str = "",
    expected_version: int | None = None,
) -> models.Model:
    """Change a row of the site; ConflictError where `expected_version` is given and no longer holds."""
    kind = _kind(noun)
    require_on_site(user=user, site=site, action=kind.action)
    row = _row(kind, site, row_id)
    plain, many = _split(kind, values)
    _refuse_own(user, row, plain)
    with transaction.atomic():
        row_change(
            user=user,
            site=site,
            row=row,
            values=plain,
            action=f"{noun}_change",
            why=why,
            expected_version=expected_version,
            more={name: [str(each) for each in each_value] for name, each_value in many.items()},
        )
        _refuse_other_site(kind, row, site)
        _set_many(row, many, site)
        _sign_out(row)
    return row


def noun_lock(*, user: User, site: Site, noun: str, row_id: int) -> None:
    """Let nobody else change a row until the transaction ends; NotFoundError where the site has none."""
    kind = _kind(noun)
    require_on_site(user=user, site=site, action=kind.action)
    row = _row(kind, site, row_id)
    # In no order of its own: that may ask for what the row points at, and PostgreSQL locks no outer join.
    rows = kind.model._default_manager.select_for_update().order_by("pk")
    rows.filter(pk=row.pk).values_list("pk").first()


def noun_remove(*, user: User, site: Site, noun: str, row_id: int, why: str) -> None:
    """Remove a row of the site that nothing needs any more; ConflictError names what still does."""
    kind = _kind(noun)
    require_on_site(user=user, site=site, action=kind.action)
    row = _row(kind, site, row_id)
    _refuse_own(user, row, {"role": None})
    with transaction.atomic():
        row_remove(user=user, site=site, row=row, action=f"{noun}_remove", why=why)
        _sign_out(row)


def _refuse_own(user: User, row: models.Model, values: Mapping[str, Any]) -> None:
    """Nobody takes a role from themselves: a slip would leave the site without an administrator."""
    if not isinstance(row, nouns.SiteMembership) or row.user_id != user.pk:
        return
    if any(values.get(name, getattr(row, name)) != getattr(row, name) for name in ("role", "user")):
        raise ConflictError(_("nobody takes a role from themselves: another administrator of the site can"))


def _sign_out(row: models.Model) -> None:
    """Whose role changed, or who left the site, signs in anew."""
    if isinstance(row, nouns.SiteMembership):
        sessions_end(user=row.user)


def _kind(noun: str) -> Noun:
    if noun not in NOUNS:
        raise NotFoundError(_("there is no kind of thing called {noun} to keep here", noun=noun))
    return NOUNS[noun]


def _row(kind: Noun, site: Site, row_id: int) -> models.Model:
    path = f"{kind.parent}__site" if kind.parent else "site"
    row = kind.model._default_manager.filter(**{path: site, "pk": row_id}).first()
    if row is None:
        raise NotFoundError(
            _(
                "there is no {verbose_name} {row_id} on {site}",
                verbose_name=kind.model._meta.verbose_name,
                row_id=row_id,
                site=site,
            )
        )
    return row


def _split(kind: Noun, values: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
    """The plain values and the many-to-many ones; InvalidValueError on a field that is not there to set."""
    many_names = {field.name for field in kind.model._meta.many_to_many}
    plain_names = {field.name for field in kind.model._meta.concrete_fields if field.editable} - {
        "id",
        "site",
    }
    unknown = sorted(set(values) - many_names - plain_names)
    if unknown:
        raise InvalidValueError(
            _(
                "{verbose_name} has no field {unknown} to set",
                verbose_name=kind.model._meta.verbose_name,
                unknown=tuple(unknown),
            )
        )
    many = {name: list(value) for name, value in values.items() if name in many_names}
    return {name: value for name, value in values.items() if name not in many_names}, many


def _set_many(row: models.Model, many: Mapping[str, list[Any]], site: Site) -> None:
    for name, targets in many.items():
        if any(getattr(target, "site_id", site.pk) != site.pk for target in targets):
            raise InvalidValueError(_("{name}: not all of them are of the site {site}", name=name, site=site))
        getattr(row, name).set(targets)


def _refuse_other_site(kind: Noun, row: models.Model, site: Site) -> None:
    if kind.parent and getattr(row, kind.parent).site_id != site.pk:
        raise InvalidValueError(
            _("{parent} is not of the site {site}", parent=getattr(row, kind.parent), site=site)
        )
