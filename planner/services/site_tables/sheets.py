"""Writing a row of a table's spreadsheet: found by its key, added or changed through the nouns' services."""

from collections.abc import Iterable, Mapping
from functools import partial
from typing import Any

from django.db import models

from planner.domain.permissions import Role
from planner.domain.sentences import _
from planner.models import RosterPattern, Site, User
from planner.selectors.kept_nouns import noun_model, noun_rows
from planner.services.imports.columns import Column
from planner.services.imports.row_by_row import Effect, FieldError, RowSheet
from planner.services.members import member_add
from planner.services.nouns import noun_add, noun_change
from planner.services.site_tables.breaks import breaks_set
from planner.services.site_tables.columns import plain_value, plain_values, rules_columns, table_columns
from planner.services.site_tables.tables import RULES_SHEET, SITE_TABLES, SiteTable
from planner.services.sites import site_change

WHY = "imported"
_OF_USER = ("first_name", "last_name", "email")


def sheet_name(table: SiteTable) -> str:
    """The name of a table's sheet, in every language the same."""
    return str(noun_model(table.noun)._meta.verbose_name_plural)


def site_sheets(site: Site, there: Mapping[str, Iterable[str]] | None = None) -> list[RowSheet]:
    """Every sheet of a site in the order in which a blank one is filled.

    `there` names the columns that a file has by sheet: a column that it lacks changes nothing, an empty cell
    of one that it has empties the field.
    """
    sheets = [_sheet(RULES_SHEET, rules_columns(site), (), _rules_write, there)]
    for table in SITE_TABLES.values():
        name = sheet_name(table)
        sheets.append(_sheet(name, table_columns(table, site), table.key, partial(_write, table), there))
    return sheets


def _sheet(
    name: str,
    columns: tuple[Column, ...],
    key: tuple[str, ...],
    write: Any,
    there: Mapping[str, Iterable[str]] | None,
) -> RowSheet:
    known = columns if there is None else tuple(each for each in columns if each.name in there.get(name, ()))
    return RowSheet(name=name, words=name, columns=columns, key=key, write=partial(write, known))


def _rules_write(columns: tuple[Column, ...], user: User, site: Site, values: Mapping[str, Any]) -> Effect:
    kept = Site.objects.get(pk=site.pk)
    told = {each.field: values.get(each.field) for each in columns}
    changed = {
        name: _or_empty(Site._meta.get_field(name), value)
        for name, value in told.items()
        if plain_value(kept, name) != _like(kept, name, value)
    }
    if not changed:
        return Effect.UNCHANGED
    site_change(user=user, site=kept, values=changed, why=WHY)
    return Effect.CHANGED


def _write(
    table: SiteTable, columns: tuple[Column, ...], user: User, site: Site, values: Mapping[str, Any]
) -> Effect:
    model = noun_model(table.noun)
    row = _found(model, table, site, values)
    if row is not None:
        own = tuple(each for each in columns if each.field not in _OF_USER)
        if plain_values(row, own) == {
            each.field: _like(row, each.field, values.get(each.field)) for each in own
        }:
            return Effect.UNCHANGED
    if table.noun == "sitemembership" and row is None:
        told = {name: values.get(name, "") for name in _OF_USER}
        member_add(user=user, site=site, username=values["user"], role=Role(values["role"]), **told)
        return Effect.ADDED
    told = _resolved(model, columns, site, values, adding=row is None)
    if row is None:
        row = noun_add(user=user, site=site, noun=table.noun, values=told, why=WHY)
        effect = Effect.ADDED
    else:
        row = noun_change(user=user, site=site, noun=table.noun, row_id=row.pk, values=told, why=WHY)
        effect = Effect.CHANGED
    if isinstance(row, RosterPattern) and any(each.field == "breaks" for each in columns):
        breaks_set(user=user, site=site, pattern=row, text=values.get("breaks", ""), why=WHY)
    return effect


def _found(
    model: type[models.Model], table: SiteTable, site: Site, values: Mapping[str, Any]
) -> models.Model | None:
    """The row on file with the same key."""
    wanted: dict[str, Any] = {}
    for name in table.key:
        target, value = model._meta.get_field(name).related_model, values.get(name)
        if target is None or value is None:
            wanted[name if value is not None else f"{name}__isnull"] = True if value is None else value
        else:
            wanted[f"{name}__{'username' if target is User else 'code'}"] = value
    return noun_rows(model=model, site=site).filter(**wanted).first()


def _like(row: models.Model, name: str, value: Any) -> Any:
    """What the cell says as the row would say it: its default for an empty cell of a field never empty."""
    if value is not None or name == "breaks":
        return value
    field = row._meta.get_field(name)
    empty = _or_empty(field, None)
    return None if empty in ("", []) else empty


def _or_empty(field: Any, value: Any) -> Any:
    """The value, or what an empty cell means for the field."""
    if value is not None:
        return value
    if field.many_to_many:
        return []
    if field.null:
        return None
    return field.get_default()


def _resolved(
    model: type[models.Model],
    columns: tuple[Column, ...],
    site: Site,
    values: Mapping[str, Any],
    *,
    adding: bool,
) -> dict[str, Any]:
    """The values with rows for codes; on a new row, what stands in no cell is left to its default."""
    told: dict[str, Any] = {}
    for column in columns:
        if column.field in (*_OF_USER, "breaks") or (adding and column.field not in values):
            continue
        field = model._meta.get_field(column.field)
        value = _or_empty(field, values.get(column.field))
        if field.related_model is not None and value:
            value = _named(field, site, value)
        told[column.field] = value
    return told


def _named(field: Any, site: Site, value: Any) -> Any:
    """The row or rows that a cell names by code; FieldError says which is not there."""
    codes = value if isinstance(value, tuple) else (value,)
    if field.related_model is User:
        members = User.objects.filter(memberships__site=site, username__in=codes)
        rows: dict[str, models.Model] = {row.username: row for row in members}
    else:
        named = noun_rows(model=field.related_model, site=site).filter(code__in=codes)
        rows = {str(row.code): row for row in named}  # type: ignore[attr-defined]
    missing = [code for code in codes if code not in rows]
    if missing:
        kind = field.related_model._meta.verbose_name
        raise FieldError(
            field.name,
            _(
                "there is no {kind} {missing} on this site, nor a sound row that adds it",
                kind=kind,
                missing=tuple(missing),
            ),
        )
    found = [rows[code] for code in codes]
    return found if field.many_to_many else found[0]
