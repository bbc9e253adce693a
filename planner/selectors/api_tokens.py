"""Reading API tokens; what a secret opens is found by its digest alone."""

import hashlib

from django.db.models import QuerySet
from django.utils import timezone

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import ApiToken, Site, User
from planner.selectors.access import may_on_site, require_on_site


def secret_digest(secret: str) -> str:
    """SHA-256 of a secret: 256 random bits need no slow hash."""
    return hashlib.sha256(secret.encode()).hexdigest()


def api_token_of_secret(*, secret: str) -> ApiToken | None:
    """The token that holds now, with its user and site; None where it is unknown, over or revoked."""
    tokens = ApiToken.objects.filter(secret_sha256=secret_digest(secret), revoked_at__isnull=True)
    tokens = tokens.filter(expires_at__gt=timezone.now(), user__is_active=True)
    return tokens.select_related("user", "site").first()


def api_token_list(*, user: User, site: Site) -> QuerySet[ApiToken]:
    """The user's own tokens, and everybody's for who keeps the members."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    tokens = ApiToken.objects.filter(site=site).select_related("user")
    if may_on_site(user=user, site=site, action=Action.MEMBER_CHANGE):
        return tokens
    return tokens.filter(user=user)


def api_token_get(*, user: User, site: Site, token_id: int) -> ApiToken:
    """One token that the user may see; NotFoundError else."""
    token = api_token_list(user=user, site=site).filter(pk=token_id).first()
    if token is None:
        raise NotFoundError(
            _("there is no API token {token_id} among those that you may see", token_id=token_id)
        )
    return token
