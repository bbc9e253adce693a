"""Proposing, accepting and refusing assumptions."""

from datetime import date
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from planner.costing.assumptions import Assumption, assumption_check
from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import CostAssumption, Site, User
from planner.models.cost_assumption import ACCEPTED, PROPOSED, REFUSED
from planner.selectors.access import require_on_site
from planner.services.accounts.periods import refuse_closed
from planner.services.rows import row_add, row_change


def assumption_propose(
    *, user: User, site: Site, name: Assumption, value: Decimal, effective_from: date, reason: str
) -> CostAssumption:
    """Put a new version of an assumption up for acceptance; nothing changes yet."""
    require_on_site(user=user, site=site, action=Action.MONEY_CHANGE)
    assumption_check(name, value)
    if not reason.strip():
        raise InvalidValueError(
            _("an assumption needs a reason: who told it, or what it was worked out from")
        )
    refuse_closed(site=site, day=effective_from)
    row = CostAssumption(
        site=site,
        name=name,
        value=value,
        effective_from=effective_from,
        reason=reason.strip(),
        author=user,
        proposed_at=timezone.now(),
    )
    row_add(user=user, site=site, row=row, action="assumption_propose", why=reason)
    return row


def assumption_accept(*, user: User, assumption: CostAssumption, why: str = "") -> None:
    """Sign a proposed version: it holds from its day on."""
    refuse_closed(site=assumption.site, day=assumption.effective_from)
    same = CostAssumption.objects.filter(
        site=assumption.site, name=assumption.name, effective_from=assumption.effective_from, state=ACCEPTED
    )
    if same.exclude(pk=assumption.pk).exists():
        raise ConflictError(
            _(
                "another version of {assumption} is accepted: propose one from another day",
                assumption=assumption,
            )
        )
    _decide(user, assumption, ACCEPTED, why)


def assumption_refuse(*, user: User, assumption: CostAssumption, why: str) -> None:
    """Turn a proposed version down; it stays on file."""
    if not why.strip():
        raise InvalidValueError(_("say why the assumption is refused"))
    _decide(user, assumption, REFUSED, why)


def _decide(user: User, assumption: CostAssumption, state: str, why: str) -> None:
    require_on_site(user=user, site=assumption.site, action=Action.MONEY_CHANGE)
    with transaction.atomic():
        current = CostAssumption.objects.select_for_update().get(pk=assumption.pk)
        if current.state != PROPOSED:
            raise ConflictError(
                _("{assumption} was {state} already", assumption=assumption, state=current.state)
            )
        row_change(
            user=user,
            site=assumption.site,
            row=assumption,
            values={"state": state, "decided_by": user, "decided_at": timezone.now()},
            action=f"assumption_{state}",
            why=why,
        )
