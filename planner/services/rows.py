"""Saving a row: checked in full, with faults in the user's words, and told to the audit chain."""

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import IntegrityError, models, transaction

from planner.domain.errors import ChangedMeanwhileError, ConflictError, InvalidValueError, NotFoundError
from planner.domain.sentences import _
from planner.models import Site, User
from planner.services.audit import audit_event_add
from planner.services.noun_checks import noun_check


def row_add(*, user: User | None, site: Site, row: models.Model, action: str, why: str = "") -> None:
    """Insert a new row with its audit event; InvalidValueError names each faulty field."""
    with transaction.atomic():
        row_checked_save(site=site, row=row)
        audit_event_add(site=site, user=user, action=action, row=row, what=f"added {row}", why=why)


def row_change(
    *,
    user: User | None,
    site: Site,
    row: models.Model,
    values: Mapping[str, Any],
    action: str,
    why: str = "",
    expected_version: int | None = None,
    more: Mapping[str, Any] | None = None,
) -> None:
    """Set `values` on a row and save it with an audit event of before and after, and of `more`.

    Raises ConflictError where `expected_version` is given and somebody changed the row since.
    """
    with transaction.atomic():
        _take_version(row, expected_version)
        before = {name: _told(getattr(row, name)) for name in values}
        for name, value in values.items():
            setattr(row, name, value)
        row_checked_save(site=site, row=row)
        after = {name: _told(getattr(row, name)) for name in values}
        audit_event_add(
            site=site,
            user=user,
            action=action,
            row=row,
            what=f"changed {row}",
            why=why,
            details={"before": before, "after": after, **(more or {})},
        )


def row_remove(*, user: User | None, site: Site, row: models.Model, action: str, why: str = "") -> None:
    """Delete a row that nothing else needs; ConflictError names what does."""
    key, what = row.pk, f"removed {row}"
    with transaction.atomic():
        try:
            removed, _of_each = row.delete()
        except models.ProtectedError as held:
            users = ", ".join(sorted({str(thing) for thing in held.protected_objects})[:3])
            raise ConflictError(
                _("{row} cannot be removed: {users} still need it", row=row, users=users)
            ) from held
        row.pk = key
        if not removed:
            raise _gone(row)
        # Behind the row, as with every change: who holds a row and waits for the site is never waited for.
        audit_event_add(site=site, user=user, action=action, row=row, what=what, why=why)


def row_checked_save(*, site: Site, row: models.Model) -> None:
    """Check every field, that all it points at is of the same site, and save."""
    _refuse_other_site(site, row)
    noun_check(row)
    try:
        row.full_clean()
        with transaction.atomic():
            row.save()
    except ValidationError as fault:
        raise InvalidValueError(_sentence(fault)) from fault
    except IntegrityError as fault:
        raise ConflictError(
            _("{row} could not be saved: it clashes with what is there ({fault})", row=row, fault=fault)
        ) from fault


def _take_version(row: models.Model, expected_version: int | None) -> None:
    """Lock the row and count its version up; ConflictError where another change came first."""
    if not hasattr(row, "version"):
        return
    kind = type(row)
    # In no order of its own: that may ask for what the row points at, and PostgreSQL locks no outer join.
    locked = kind._default_manager.select_for_update().filter(pk=row.pk).order_by("pk")
    current = locked.values_list("version", flat=True).first()
    if current is None:
        raise _gone(row)
    if current != (row.version if expected_version is None else expected_version):
        raise ChangedMeanwhileError(
            _("{row} was changed by somebody else in the meantime: load it again", row=row)
        )
    row.version = current + 1


def _gone(row: models.Model) -> NotFoundError:
    what = row._meta.verbose_name
    return NotFoundError(_("this {what} was removed by somebody else in the meantime", what=what))


def _refuse_other_site(site: Site, row: models.Model) -> None:
    for field in row._meta.concrete_fields:
        target = getattr(row, field.name, None) if field.is_relation else None
        if getattr(target, "site_id", site.pk) != site.pk:
            raise InvalidValueError(_("{target} is not of the site {site}", target=target, site=site))


def _sentence(fault: ValidationError) -> str:
    if not hasattr(fault, "error_dict"):
        return " ".join(fault.messages)
    parts = [
        f"{' '.join(messages)}" if name == "__all__" else f"{name.replace('_', ' ')}: {' '.join(messages)}"
        for name, messages in fault.message_dict.items()
    ]
    return "; ".join(parts)


def _told(value: Any) -> Any:
    return str(value) if isinstance(value, models.Model) else value
