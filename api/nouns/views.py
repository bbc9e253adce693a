"""Two views for each kind of row: the list, and one of it."""

from typing import ClassVar

from django.db import transaction
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.broken_plan import BrokenPlan
from api.base.views import SiteView
from api.nouns.shapes import NounShape, noun_shape
from planner.domain.permissions import Action
from planner.selectors.kept_nouns import noun_get, noun_list
from planner.services.nouns import NOUNS, noun_lock
from planner.services.site_tables.changing import kept_row_add, kept_row_change, kept_row_remove


class NounList(SiteView):
    """All rows of a kind."""

    created = frozenset({"POST"})
    noun: ClassVar[str]
    shape: ClassVar[type[NounShape]]

    def get(self, request: Request, site: str) -> Response:
        """All of them, in their own order."""
        return self.page(noun_list(user=self.user, site=self.site, noun=self.noun), self.shape)

    def post(self, request: Request, site: str) -> Response:
        """Add one."""
        return self.once(self._added)

    def _added(self) -> Response:
        row = kept_row_add(
            user=self.user,
            site=self.site,
            noun=self.noun,
            values=self.sent(self.shape),
            accepted=self.accepts_broken_plan,
        )
        return self.one(row, self.shape, status=201)


class NounOne(SiteView):
    """One row of a kind."""

    noun: ClassVar[str]
    shape: ClassVar[type[NounShape]]

    def get(self, request: Request, site: str, row: int) -> Response:
        """One of them."""
        return self.one(self._row(row), self.shape)

    def patch(self, request: Request, site: str, row: int) -> Response:
        """Change some fields of it."""
        with transaction.atomic():
            self._refuse_changed(row)
            kept_row_change(
                user=self.user,
                site=self.site,
                noun=self.noun,
                row_id=row,
                values=self.sent(self.shape, partial=True),
                accepted=self.accepts_broken_plan,
            )
        return self.one(self._row(row), self.shape)

    def delete(self, request: Request, site: str, row: int) -> Response:
        """Remove it, where nothing needs it any more."""
        with transaction.atomic():
            self._refuse_changed(row)
            kept_row_remove(
                user=self.user,
                site=self.site,
                noun=self.noun,
                row_id=row,
                why="removed over the API",
                accepted=self.accepts_broken_plan,
            )
        return Response(status=204)

    def _refuse_changed(self, row: int) -> None:
        """412 where it is not as the caller read it; it stays so until the change is done."""
        noun_lock(user=self.user, site=self.site, noun=self.noun, row_id=row)
        self.refuse_unmatched(self._row(row), self.shape)

    def _row(self, row: int) -> NounShape:
        return noun_get(user=self.user, site=self.site, noun=self.noun, row_id=row)  # type: ignore[return-value]


def noun_views(noun: str, name: str) -> tuple[type[SiteView], type[SiteView]]:
    """The two views of a kind; `name` is its operations' stem, such as `heater_set`."""
    action, shape = NOUNS[noun].action, noun_shape(noun)
    reads, writes = {"GET": Action.SITE_READ}, ("POST", "PATCH", "DELETE")
    shared = {"noun": noun, "shape": shape, "actions": reads | dict.fromkeys(writes, action)}
    many: type[SiteView] = type(f"{shape.__name__}s", (NounList,), dict(shared))
    single: type[SiteView] = type(shape.__name__, (NounOne,), dict(shared))
    return _listed(many, name, shape), _single(single, name, shape)


def _listed(view: type[SiteView], name: str, shape: type[serializers.BaseSerializer]) -> type[SiteView]:  # type: ignore[type-arg]
    return extend_schema_view(
        get=extend_schema(operation_id=f"{name}_list", responses=shape(many=True)),
        post=extend_schema(
            operation_id=f"{name}_add", parameters=[BrokenPlan], request=shape, responses={201: shape}
        ),
    )(view)


def _single(view: type[SiteView], name: str, shape: type[serializers.BaseSerializer]) -> type[SiteView]:  # type: ignore[type-arg]
    return extend_schema_view(
        get=extend_schema(operation_id=f"{name}_get", responses=shape),
        patch=extend_schema(
            operation_id=f"{name}_change", parameters=[BrokenPlan], request=shape, responses=shape
        ),
        delete=extend_schema(operation_id=f"{name}_remove", parameters=[BrokenPlan], responses={204: None}),
    )(view)
