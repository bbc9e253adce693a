"""Signing in with a token: `Authorization: Bearer tyrewright_…`."""

from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework.authentication import BaseAuthentication, get_authorization_header
from rest_framework.exceptions import AuthenticationFailed
from rest_framework.request import Request

from planner.selectors.api_tokens import api_token_of_secret
from planner.selectors.nouns import ApiToken, User
from planner.services.api_tokens import api_token_use_note


class TokenSignIn(BaseAuthentication):
    """Who holds a token that is neither over nor revoked is its user, within the token's bounds."""

    def authenticate(self, request: Request) -> tuple[User, ApiToken] | None:
        """The token's user with the token; None where the request carries none."""
        scheme, _, secret = get_authorization_header(request).partition(b" ")
        if scheme.lower() != b"bearer":
            return None
        token = api_token_of_secret(secret=secret.decode("latin-1"))
        if token is None:
            raise AuthenticationFailed("this token is unknown, over or revoked")
        api_token_use_note(token=token)
        return token.user, token

    def authenticate_header(self, request: Request) -> str:
        """What a request without sign-in is asked for."""
        return 'Bearer realm="Tyrewright"'


class TokenScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]
    """The token in the schema."""

    target_class = TokenSignIn
    name = "token"

    def get_security_definition(self, auto_schema: object) -> dict[str, str]:
        """A bearer token."""
        return {"type": "http", "scheme": "bearer", "description": "A token of one site, made under tokens."}
