"""Tables that show an administrator their own sites and nothing else."""

from typing import TYPE_CHECKING, Any

from django.contrib import admin
from django.db import models
from django.forms import ModelChoiceField
from django.http import HttpRequest

from planner.domain.permissions import Role
from planner.models import Site, SiteMembership, User

if TYPE_CHECKING:
    _Table = admin.ModelAdmin[models.Model]
else:
    _Table = admin.ModelAdmin


def sites_administered(user: Any) -> models.QuerySet[Site]:
    """All sites for a superuser, else those where the user is an administrator."""
    if not isinstance(user, User) or not user.is_active:
        return Site.objects.none()
    if user.is_superuser:
        return Site.objects.all()
    members = SiteMembership.objects.filter(user=user, role=Role.ADMINISTRATOR)
    return Site.objects.filter(pk__in=members.values("site"))


class SiteTable(_Table):
    """A table whose rows belong to sites; `site_path` is the field that leads to the site."""

    site_path = "site"

    def get_queryset(self, request: HttpRequest) -> models.QuerySet[models.Model]:
        """Only rows of the administrator's sites."""
        rows = super().get_queryset(request)
        return rows.filter(**{f"{self.site_path}__in": sites_administered(request.user)})

    def has_module_permission(self, request: HttpRequest) -> bool:
        """Whoever administers a site sees its tables."""
        return sites_administered(request.user).exists()

    def has_view_permission(self, request: HttpRequest, obj: models.Model | None = None) -> bool:
        """Whoever administers the row's site."""
        return self._may(request, obj)

    def has_add_permission(self, request: HttpRequest, *_: Any) -> bool:
        """Whoever administers a site."""
        return self._may(request, None)

    def has_change_permission(self, request: HttpRequest, obj: models.Model | None = None) -> bool:
        """Whoever administers the row's site."""
        return self._may(request, obj)

    def has_delete_permission(self, request: HttpRequest, obj: models.Model | None = None) -> bool:
        """Whoever administers the row's site."""
        return self._may(request, obj)

    def formfield_for_foreignkey(
        self, db_field: Any, request: HttpRequest, **more: Any
    ) -> "ModelChoiceField[Any] | None":
        """Offer only what is of the administrator's sites."""
        target = db_field.remote_field.model
        sites = sites_administered(request.user)
        if target is Site:
            more["queryset"] = sites
        elif any(field.name == "site" for field in target._meta.concrete_fields):
            more["queryset"] = target._default_manager.filter(site__in=sites)
        return super().formfield_for_foreignkey(db_field, request, **more)

    def _may(self, request: HttpRequest, row: models.Model | None) -> bool:
        sites = sites_administered(request.user)
        return sites.exists() if row is None else sites.filter(pk=site_of(row, self.site_path).pk).exists()


def site_of(row: models.Model, site_path: str) -> Site:
    """The site that a row belongs to, along a path of fields."""
    found: Any = row
    for name in site_path.split("__"):
        found = getattr(found, name)
    if not isinstance(found, Site):
        raise TypeError(f"{site_path} of {row} leads to no site")
    return found
