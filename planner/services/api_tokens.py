"""Making, using and revoking API tokens."""

import secrets
from collections.abc import Collection
from datetime import datetime, timedelta

from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import ApiToken, Site, User
from planner.selectors.access import actions_get, require_on_site
from planner.selectors.api_tokens import secret_digest
from planner.services.rows import row_add, row_change

LONGEST_LIFE = timedelta(days=366)
USE_NOTED_EVERY = timedelta(minutes=10)
PREFIX = "tyrewright_"


def api_token_make(
    *, user: User, site: Site, name: str, actions: Collection[Action], expires_at: datetime
) -> tuple[ApiToken, str]:
    """Make a token and its secret, which is told this once.

    Raises InvalidValueError where it would outlive a year, or may do what its user may not.
    """
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    now = timezone.now()
    if not now < expires_at <= now + LONGEST_LIFE:
        raise InvalidValueError(_("a token must expire after now, and within a year"))
    beyond = sorted(set(actions) - actions_get(user=user, site=site))
    if beyond or not actions:
        raise InvalidValueError(
            _("a token may only do what you may do yourself; not: {beyond}", beyond=tuple(beyond))
        )
    secret = PREFIX + secrets.token_urlsafe(32)
    token = ApiToken(
        site=site,
        user=user,
        name=name,
        secret_sha256=secret_digest(secret),
        actions=sorted(set(actions)),
        made_at=now,
        expires_at=expires_at,
    )
    row_add(user=user, site=site, row=token, action="api_token_make")
    return token, secret


def api_token_revoke(*, user: User, token: ApiToken, why: str = "") -> None:
    """End a token at once: one's own, or anybody's by who keeps the members."""
    if token.user_id != user.pk:
        require_on_site(user=user, site=token.site, action=Action.MEMBER_CHANGE)
    if token.revoked_at is not None:
        raise ConflictError(_("{token} was revoked already", token=token))
    values = {"revoked_at": timezone.now()}
    row_change(user=user, site=token.site, row=token, values=values, action="api_token_revoke", why=why)


def api_token_use_note(*, token: ApiToken) -> None:
    """Keep when the token was last used, to the ten minutes: no write for every read."""
    now = timezone.now()
    if token.last_used_at is None or token.last_used_at < now - USE_NOTED_EVERY:
        ApiToken.objects.filter(pk=token.pk).update(last_used_at=now)
