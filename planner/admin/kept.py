"""What an administrator keeps: every change is checked and leaves an audit event."""

from typing import Any

from django.contrib import admin, messages
from django.db import models, transaction
from django.http import HttpRequest

from planner.admin.base import SiteTable, site_of
from planner.domain.errors import UserError
from planner.models import User
from planner.selectors.telling import in_words
from planner.services.audit import audit_event_add
from planner.services.nouns import NOUNS
from planner.services.rows import row_add, row_checked_save, row_remove


class KeptTable(SiteTable):
    """A table of `NOUNS`: saved by the same checks as the pages, with who changed which fields."""

    def save_model(self, request: HttpRequest, obj: models.Model, form: Any, change: bool) -> None:
        """Save with an audit event."""
        site, user = site_of(obj, self.site_path), _user(request)
        noun = obj._meta.model_name
        if not change:
            row_add(user=user, site=site, row=obj, action=f"{noun}_add", why="admin")
            return
        details = {"before": {name: str(form.initial.get(name)) for name in form.changed_data}}
        details["after"] = {name: str(form.cleaned_data.get(name)) for name in form.changed_data}
        with transaction.atomic():
            if hasattr(obj, "version"):
                obj.version += 1
            row_checked_save(site=site, row=obj)
            audit_event_add(
                site=site,
                user=user,
                action=f"{noun}_change",
                row=obj,
                what=f"changed {obj}",
                why="admin",
                details=details,
            )

    def delete_model(self, request: HttpRequest, obj: models.Model) -> None:
        """Remove with an audit event."""
        site = site_of(obj, self.site_path)
        action = f"{obj._meta.model_name}_remove"
        row_remove(user=_user(request), site=site, row=obj, action=action, why="admin")

    def delete_queryset(self, request: HttpRequest, queryset: models.QuerySet[models.Model]) -> None:
        """Remove one by one, each with its audit event."""
        for row in queryset:
            self.delete_model(request, row)

    def changeform_view(self, request: HttpRequest, *args: Any, **more: Any) -> Any:
        """Show a fault in the user's words instead of a server error."""
        try:
            return super().changeform_view(request, *args, **more)
        except UserError as fault:
            messages.error(request, in_words(fault))
            return self.response_post_save_change(request, self.model())


def _user(request: HttpRequest) -> User:
    if not isinstance(request.user, User):
        raise TypeError("only a signed-in user changes tables")
    return request.user


for _noun in NOUNS.values():
    _path = f"{_noun.parent}__site" if _noun.parent else "site"
    admin.site.register(_noun.model, type(f"{_noun.model.__name__}Table", (KeptTable,), {"site_path": _path}))
