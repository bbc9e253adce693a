"""Giving somebody a role on a site, and a way to choose their password."""

from django.contrib.auth.tokens import default_token_generator
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.encoding import force_bytes
from django.utils.http import urlsafe_base64_encode

from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError
from planner.domain.permissions import Action, Role
from planner.domain.sentences import _, joined
from planner.models import Site, SiteMembership, User
from planner.selectors.access import require_on_site
from planner.services.audit import audit_event_add
from planner.services.nouns import noun_add


def member_add(
    *,
    user: User,
    site: Site,
    username: str,
    role: Role,
    first_name: str = "",
    last_name: str = "",
    email: str = "",
) -> SiteMembership:
    """Give a role to the user of this name, who is made where there is none; nobody knows their password yet.

    The account of somebody who is known already stays as it is. InvalidValueError names a faulty field.
    """
    require_on_site(user=user, site=site, action=Action.MEMBER_CHANGE)
    with transaction.atomic():
        member = User.objects.filter(username=username).first()
        if member is None:
            member = User(username=username, first_name=first_name, last_name=last_name, email=email)
            member.set_unusable_password()
            _save(member)
        row = noun_add(
            user=user, site=site, noun="sitemembership", values={"user": member, "role": Role(role).value}
        )
    assert isinstance(row, SiteMembership)  # noqa: S101 - the noun says so
    return row


def password_link_parts(*, user: User, site: Site, member: SiteMembership) -> tuple[str, str]:
    """What the address needs where the member chooses a password, once, within three days.

    NotAllowedError where the account is known on a site that is none of the administrator's.
    """
    require_on_site(user=user, site=site, action=Action.MEMBER_CHANGE)
    account = member.user
    if member.site_id != site.pk or not account.is_active:
        raise ConflictError(_("{account} has no open account on {site}", account=account, site=site))
    own = SiteMembership.objects.filter(user=user, role=Role.ADMINISTRATOR).values("site")
    others = SiteMembership.objects.filter(user=account).exclude(site__in=own)
    if others.exists() or account.is_superuser:
        raise NotAllowedError(
            _(
                "{account} is known on other sites too: an administrator of all of them can help",
                account=account,
            )
        )
    with transaction.atomic():
        audit_event_add(
            site=site,
            user=user,
            action="password_link",
            row=member,
            what=f"a way to choose a password for {account}",
        )
    return urlsafe_base64_encode(force_bytes(account.pk)), default_token_generator.make_token(account)


def _save(member: User) -> None:
    try:
        member.full_clean(exclude=["password"])
    except ValidationError as fault:
        faults = (
            f"{name.replace('_', ' ')}: {' '.join(words)}" for name, words in fault.message_dict.items()
        )
        raise InvalidValueError(joined(faults)) from fault
    member.save()
