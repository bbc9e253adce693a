"""The view that every resource of a site extends: who may, preconditions, one answer for one key."""

import hashlib
import json
from collections.abc import Callable, Mapping
from typing import Any, ClassVar, TypeVar, cast
from zoneinfo import ZoneInfo

from django.db.models import Model, QuerySet
from rest_framework.exceptions import MethodNotAllowed
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer, MultipleChoiceField, Serializer
from rest_framework.views import APIView

from api.base.broken_plan import BrokenPlan
from api.base.entity_tags import entity_tag, is_known, refuse_unmatched, require_if_match
from api.base.pages import Pages
from api.base.throttles import AddressThrottle
from planner.domain.errors import NotAllowedError, NotFoundError
from planner.domain.permissions import Action
from planner.selectors.access import require_on_site, site_get
from planner.selectors.nouns import ApiToken, Site, User
from planner.services.kept_answers import Answer, answer_once

Row = TypeVar("Row", bound=Model)
_WRITES = frozenset({"POST", "PUT", "PATCH", "DELETE"})


class SignedInView(APIView):
    """A view for whoever signed in; the address is counted before anything is looked up."""

    user: User

    def perform_authentication(self, request: Request) -> None:
        """Slow an address down before its sign-in is tried."""
        throttle = AddressThrottle()
        if not throttle.allow_request(request, self):
            self.throttled(request, throttle.wait() or 0)
        super().perform_authentication(request)

    def initial(self, request: Request, *args: Any, **named: Any) -> None:
        """Sign in; read the body of a write once, which also keeps it within its limit."""
        super().initial(request, *args, **named)
        self.user = cast(User, request.user)
        if request.auth is None and request._request.session.get("code_due"):
            raise NotAllowedError("your one-time code is due: enter it on the pages first")


class SiteView(SignedInView):
    """A resource of the site in the address.

    `actions` names what each method needs; `matched` the methods that change a thing which exists, and
    need `If-Match`; `created` those that make one, and take an `Idempotency-Key`.
    """

    actions: ClassVar[Mapping[str, Action]] = {}
    pagination_class = Pages
    matched: ClassVar[frozenset[str]] = frozenset({"PUT", "PATCH", "DELETE"})
    created: ClassVar[frozenset[str]] = frozenset()
    site: Site

    @property
    def zone(self) -> ZoneInfo:
        """The site's time zone."""
        return ZoneInfo(self.site.time_zone)

    def initial(self, request: Request, *args: Any, **named: Any) -> None:
        """Ask for site, action, the token's bounds and a readable body, in this order.

        The handler then finds the thing (404), holds it against the precondition (`refuse_unmatched`: 428,
        412) and only then looks at what the body says (`sent`: 422).
        """
        if request.method in _WRITES:
            _ = request._request.body  # kept by Django, so that it can be read again for its digest
        super().initial(request, *args, **named)
        method = "GET" if request.method == "HEAD" else request.method or ""
        if not hasattr(self, method.lower()):
            raise MethodNotAllowed(method)
        action = self.actions.get(method)
        if action is not None:
            self.site = site_get(user=self.user, code=named["site"])
            _refuse_beyond_token(request.auth, self.site, action)
            require_on_site(user=self.user, site=self.site, action=action)
        if method in _WRITES:
            _ = request.data

    def page(
        self,
        rows: QuerySet[Any] | list[Any],
        shape: type[BaseSerializer[Any]],
        told: Callable[[Any], Any] = lambda row: row,
    ) -> Response:
        """One page of a list, each row as `told` puts it."""
        pages = Pages()
        found = pages.paginate_queryset(rows, self.request, view=self) or []
        return pages.get_paginated_response(self.shaped([told(row) for row in found], shape, many=True))

    def one(self, thing: Any, shape: type[BaseSerializer[Any]], status: int = 200) -> Response:
        """One thing with its entity tag; 304 where the caller has it already."""
        data = self.shaped(thing, shape)
        tag = entity_tag(data)
        if self.request.method in ("GET", "HEAD") and is_known(self.request, tag):
            return Response(status=304, headers={"ETag": tag})
        return Response(data, status=status, headers={"ETag": tag})

    def shaped(self, thing: Any, shape: type[BaseSerializer[Any]], *, many: bool = False) -> Any:
        """The thing as it is answered."""
        return shape(thing, many=many, context={"site": self.site}).data

    def refuse_unmatched(self, thing: Any, shape: type[BaseSerializer[Any]]) -> None:
        """428 where the caller does not say how they read the thing, 412 where it is otherwise by now."""
        require_if_match(self.request)
        refuse_unmatched(self.request, self.shaped(thing, shape))

    def sent(self, shape: type[Serializer[Any]], *, partial: bool = False) -> dict[str, Any]:
        """The body, checked; 422 names every fault."""
        read = shape(data=self.request.data, partial=partial, context={"site": self.site})
        read.is_valid(raise_exception=True)
        return cast(dict[str, Any], read.validated_data)

    def asked(self, shape: type[Serializer[Any]]) -> dict[str, Any]:
        """The query, checked; 422 names every fault, and what is asked for as nothing is one."""
        query, told = self.request.query_params, shape()
        many = [name for name, each in told.fields.items() if isinstance(each, MultipleChoiceField)]
        read = shape(data={name: query.getlist(name) if name in many else query[name] for name in query})
        read.is_valid(raise_exception=True)
        return cast(dict[str, Any], read.validated_data)

    @property
    def accepts_broken_plan(self) -> bool:
        """Whether the caller goes on where the published plan would no longer hold."""
        accepted: bool = self.asked(BrokenPlan)["accept_broken_plan"]
        return accepted

    def once(self, work: Callable[[], Response], secret: str = "") -> Response:
        """Make something: once, where an `Idempotency-Key` came. The field `secret` is never kept."""
        key = self.request.headers.get("Idempotency-Key")
        if key is None:
            return work()
        made: list[Response] = []

        def make() -> Answer:
            made.append(work())
            return _kept_form(made[0], secret)

        digest = self._request_digest()
        answer = answer_once(user=self.user, key=key, request_sha256=digest, work=make)
        if not answer.repeated:
            return made[0]
        headers = {**answer.headers, "Idempotency-Replayed": "true"}
        return Response(json.loads(answer.body), status=answer.status, headers=headers)

    def _request_digest(self) -> str:
        asked = f"{self.request.method} {self.request.get_full_path()}\n".encode()
        return hashlib.sha256(asked + self.request._request.body).hexdigest()


def found(rows: QuerySet[Row], **lookup: Any) -> Row:
    """The one row among those that the caller may see; NotFoundError else."""
    row = rows.filter(**lookup).first()
    if row is None:
        raise NotFoundError(f"there is no {rows.model._meta.verbose_name} {next(iter(lookup.values()))} here")
    return row


def _refuse_beyond_token(token: Any, site: Site, action: Action) -> None:
    if not isinstance(token, ApiToken):
        return
    if token.site_id != site.pk:
        raise NotFoundError(f"there is no site {site.code} for this token")
    if action not in token.actions:
        raise NotAllowedError(f"{action.words}: this token was not made for that")


def _kept_form(response: Response, secret: str) -> Answer:
    data = {**response.data, secret: None} if secret else response.data
    headers = {name: response[name] for name in ("ETag", "Location") if name in response}
    return Answer(status=response.status_code, body=JSONRenderer().render(data).decode(), headers=headers)
