"""A loaded site cut down to a few rows of everything, each with all that it refers to."""

from collections import defaultdict
from collections.abc import Iterator
from graphlib import TopologicalSorter
from typing import Any

from django.apps import apps
from django.db import connection
from django.db.models import ForeignKey, Model, QuerySet

from planner.models import Site
from planner.models.base import SiteOwned

KEPT_WHOLE = {"User", "Site", "SiteMembership", "UserPreference", "AuditEvent"}
"""Without its readers a site has no pages; what happened on it is never taken away."""

Kept = dict[type[Model], set[Any]]


def keep_few(site: Site, rows: int) -> dict[str, int]:
    """Take away all but so many of the site's rows of each model and what these refer to; how many are left.

    The newest are kept. Whatever refers to others chooses first, so that its choice is theirs as well.
    """
    models = _models()
    kept: Kept = defaultdict(set)
    refers = {model: {key.related_model for key in _keys(model)} & set(models) - {model} for model in models}
    order = list(TopologicalSorter(refers).static_order())  # what is referred to stands first
    for model in reversed(order):
        for pk in _of_site(model, site).order_by("-pk").values_list("pk", flat=True):
            if len(kept[model]) >= rows:
                break
            _keep(model, pk, kept)
    for model in models:
        _take_away(model, kept[model])
    return {model.__name__: len(kept[model]) for model in models}


def _of_site(model: type[Model], site: Site) -> QuerySet[Model]:
    """The site's own rows; of what stands below something else, those below the site's."""
    keys = {key.name: key.related_model for key in _keys(model)}
    above = (name for name, other in keys.items() if issubclass(other, SiteOwned))
    path = "site" if "site" in keys else f"{next(above, '')}__site"
    return (
        model._default_manager.filter(**{path: site}) if path != "__site" else model._default_manager.none()
    )


def _models() -> list[type[Model]]:
    every = apps.get_app_config("planner").get_models(include_auto_created=True)
    return [model for model in every if model.__name__ not in KEPT_WHOLE]


def _keys(model: type[Model]) -> Iterator[ForeignKey[Any, Any]]:
    return (field for field in model._meta.get_fields() if isinstance(field, ForeignKey))


def _keep(model: type[Model], pk: Any, kept: Kept) -> None:
    if pk is None or model.__name__ in KEPT_WHOLE or model._meta.app_label != "planner" or pk in kept[model]:
        return
    kept[model].add(pk)
    named = {key.attname: key for key in _keys(model)}
    values = model._default_manager.filter(pk=pk).values(*named).get() if named else {}
    for name, other in values.items():
        _keep(named[name].related_model, other, kept)


def _take_away(model: type[Model], kept: set[Any]) -> None:
    """In SQL, since some rows are never taken away by the program itself."""
    names = (model._meta.db_table, model._meta.pk.column or "")
    table, column = (connection.ops.quote_name(each) for each in names)
    marks = ", ".join(["%s"] * len(kept))
    with connection.cursor() as cursor:
        cursor.execute(f"DELETE FROM {table} WHERE {column} NOT IN ({marks or 'NULL'})", list(kept))  # noqa: S608
        if not kept:
            cursor.execute(f"DELETE FROM {table}")  # noqa: S608
