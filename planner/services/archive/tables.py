"""Which rows belong to an archive: those of every table, or those of one site."""

from typing import Any

from django.apps import apps
from django.db.models import Model, QuerySet

from planner.models import Site, SiteMembership, User

# Who is signed in, answers kept for a repeated request, files on their way in or out, odds in the making:
# soon gone, and no use on another server.
PASSING = {"sessions.Session", "planner.KeptAnswer", "planner.FileTask", "planner.PlanReplayPart"}
# Made by `migrate` itself; an archive of everything replaces them, since other rows point at them.
MADE_BY_MIGRATE = ("auth.Permission", "contenttypes.ContentType")


def archived_models(site: Site | None) -> list[type[Model]]:
    """The tables of an archive in a fixed order; users come last, when all who are named are known."""
    models = [model for model in apps.get_models(include_auto_created=True) if _is_kept(model, site)]
    return sorted(models, key=lambda model: (model is User, model._meta.label))


def rows_of(model: type[Model], site: Site | None, users: set[Any]) -> QuerySet[Any]:
    """The table's rows in the order of their keys; of one site, its own and the people they name."""
    rows = model._base_manager.order_by("pk")
    if site is None:
        return rows
    if model is User:
        members = SiteMembership.objects.filter(site=site).values("user")
        return rows.filter(pk__in=users) | rows.filter(pk__in=members)
    return rows.filter(**{_way_to_site(model) or "": site.pk})


def people_of(model: type[Model]) -> list[str]:
    """The columns of a table that name a user."""
    return [field.attname for field in model._meta.concrete_fields if field.related_model is User]


def _is_kept(model: type[Model], site: Site | None) -> bool:
    if model._meta.label in PASSING or not model._meta.managed or model._meta.proxy:
        return False
    return site is None or model is User or _way_to_site(model) is not None


def _way_to_site(model: type[Model]) -> str | None:
    """The look-up from a row to its site's key: its own, or that of the row it joins to others."""
    if model is Site:
        return "pk"
    names = {field.name: field.related_model for field in model._meta.concrete_fields}
    if names.get("site") is Site:
        return "site"
    for name, related in names.items():
        if model._meta.auto_created and related and hasattr(related, "site_id"):
            return f"{name}__site"
    return None
