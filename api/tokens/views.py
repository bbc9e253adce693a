"""Making, listing and revoking tokens. A token makes none: that takes a person who signed in."""

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.tokens.shapes import NewTokenShape, TokenMake, TokenShape
from planner.domain.errors import NotAllowedError
from planner.domain.permissions import Action
from planner.selectors.api_tokens import api_token_get, api_token_list
from planner.selectors.nouns import ApiToken
from planner.services.api_tokens import api_token_make, api_token_revoke


class Tokens(SiteView):
    """The caller's tokens of a site; everybody's for its administrator."""

    actions = {"GET": Action.SITE_READ, "POST": Action.SITE_READ}
    created = frozenset({"POST"})

    @extend_schema(operation_id="token_list", responses=TokenShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """The tokens, newest first, without their secrets."""
        return self.page(api_token_list(user=self.user, site=self.site), TokenShape)

    @extend_schema(operation_id="token_make", request=TokenMake, responses={201: NewTokenShape})
    def post(self, request: Request, site: str) -> Response:
        """Make a token; its secret is in this answer and nowhere else."""
        if isinstance(request.auth, ApiToken):
            raise NotAllowedError("a token makes no tokens: sign in yourself")
        return self.once(self._made, secret="secret")  # noqa: S106 (the name of a field)

    def _made(self) -> Response:
        values = self.sent(TokenMake)
        actions = [Action(each) for each in values.pop("actions")]
        token, secret = api_token_make(user=self.user, site=self.site, actions=actions, **values)
        return Response({**self.shaped(token, TokenShape), "secret": secret}, status=201)


class OneToken(SiteView):
    """One token."""

    actions = {"GET": Action.SITE_READ, "DELETE": Action.SITE_READ}

    @extend_schema(operation_id="token_get", responses=TokenShape)
    def get(self, request: Request, site: str, token: int) -> Response:
        """One token without its secret."""
        return self.one(api_token_get(user=self.user, site=self.site, token_id=token), TokenShape)

    @extend_schema(operation_id="token_revoke", responses={204: None})
    def delete(self, request: Request, site: str, token: int) -> Response:
        """Revoke a token: it opens nothing from now on."""
        row = api_token_get(user=self.user, site=self.site, token_id=token)
        self.refuse_unmatched(row, TokenShape)
        api_token_revoke(user=self.user, token=row)
        return Response(status=204)
