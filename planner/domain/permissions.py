"""Who may do what: one table of role by action, and the pair that reads it."""

from collections.abc import Mapping
from enum import StrEnum

from planner.domain.errors import NotAllowedError
from planner.domain.sentences import Sentence, _, either


class Role(StrEnum):
    """What somebody is on one site."""

    SUPERVISOR = "supervisor"
    PLANNER = "planner"
    ACCOUNTANT = "accountant"
    TECHNICIAN = "technician"
    ADMINISTRATOR = "administrator"


class Action(StrEnum):
    """What can be done on a site; each service asks for one of these."""

    SITE_READ = "site_read"
    AUDIT_READ = "audit_read"
    MONEY_READ = "money_read"
    MONEY_CHANGE = "money_change"
    SPEND_APPROVE = "spend_approve"
    TYRE_RECORD = "tyre_record"
    DAMAGE_RECORD = "damage_record"
    WORK_ORDER_RECEIVE = "work_order_receive"
    WORK_ORDER_DATE = "work_order_date"
    WORK_ORDER_DECIDE = "work_order_decide"
    WORK_RECORD = "work_record"
    OTHERS_TAP_TAKE_BACK = "others_tap_take_back"
    LOT_RECEIVE = "lot_receive"
    SPARES_CHANGE = "spares_change"
    PLAN_BUILD = "plan_build"
    PLAN_PUBLISH = "plan_publish"
    PART_STATE_CHANGE = "part_state_change"
    CLOSURE_CHANGE = "closure_change"
    RESOURCE_CHANGE = "resource_change"
    ROSTER_CHANGE = "roster_change"
    ROUTE_CHANGE = "route_change"
    SITE_CHANGE = "site_change"
    MEMBER_CHANGE = "member_change"
    WEBHOOK_CHANGE = "webhook_change"

    @property
    def words(self) -> Sentence:
        """The action in plain words."""
        return _WORDS[self]


_WORDS: Mapping[Action, Sentence] = {
    Action.SITE_READ: _("site read"),
    Action.AUDIT_READ: _("audit read"),
    Action.MONEY_READ: _("money read"),
    Action.MONEY_CHANGE: _("money change"),
    Action.SPEND_APPROVE: _("spend approve"),
    Action.TYRE_RECORD: _("tyre record"),
    Action.DAMAGE_RECORD: _("damage record"),
    Action.WORK_ORDER_RECEIVE: _("work order receive"),
    Action.WORK_ORDER_DATE: _("work order date"),
    Action.WORK_ORDER_DECIDE: _("work order decide"),
    Action.WORK_RECORD: _("work record"),
    Action.OTHERS_TAP_TAKE_BACK: _("others tap take back"),
    Action.LOT_RECEIVE: _("lot receive"),
    Action.SPARES_CHANGE: _("spares change"),
    Action.PLAN_BUILD: _("plan build"),
    Action.PLAN_PUBLISH: _("plan publish"),
    Action.PART_STATE_CHANGE: _("part state change"),
    Action.CLOSURE_CHANGE: _("closure change"),
    Action.RESOURCE_CHANGE: _("resource change"),
    Action.ROSTER_CHANGE: _("roster change"),
    Action.ROUTE_CHANGE: _("route change"),
    Action.SITE_CHANGE: _("site change"),
    Action.MEMBER_CHANGE: _("member change"),
    Action.WEBHOOK_CHANGE: _("webhook change"),
}

_R = Role
_EVERYONE = frozenset(Role)

PERMISSIONS: Mapping[Action, frozenset[Role]] = {
    Action.SITE_READ: _EVERYONE,
    Action.AUDIT_READ: frozenset({_R.SUPERVISOR, _R.ACCOUNTANT, _R.ADMINISTRATOR}),
    Action.MONEY_READ: frozenset({_R.SUPERVISOR, _R.PLANNER, _R.ACCOUNTANT, _R.ADMINISTRATOR}),
    Action.MONEY_CHANGE: frozenset({_R.ACCOUNTANT, _R.ADMINISTRATOR}),
    Action.SPEND_APPROVE: frozenset({_R.SUPERVISOR, _R.ACCOUNTANT}),
    Action.TYRE_RECORD: frozenset({_R.SUPERVISOR, _R.PLANNER, _R.ADMINISTRATOR}),
    Action.DAMAGE_RECORD: frozenset({_R.SUPERVISOR, _R.PLANNER, _R.TECHNICIAN}),
    Action.WORK_ORDER_RECEIVE: frozenset({_R.SUPERVISOR, _R.PLANNER}),
    Action.WORK_ORDER_DATE: frozenset({_R.SUPERVISOR, _R.PLANNER}),
    Action.WORK_ORDER_DECIDE: frozenset({_R.SUPERVISOR}),
    Action.WORK_RECORD: frozenset({_R.SUPERVISOR, _R.TECHNICIAN}),
    Action.OTHERS_TAP_TAKE_BACK: frozenset({_R.SUPERVISOR}),
    Action.LOT_RECEIVE: frozenset({_R.SUPERVISOR, _R.ADMINISTRATOR}),
    Action.SPARES_CHANGE: frozenset({_R.SUPERVISOR, _R.PLANNER, _R.ADMINISTRATOR}),
    Action.PLAN_BUILD: frozenset({_R.SUPERVISOR}),
    Action.PLAN_PUBLISH: frozenset({_R.SUPERVISOR}),
    Action.PART_STATE_CHANGE: frozenset({_R.SUPERVISOR, _R.TECHNICIAN, _R.ADMINISTRATOR}),
    Action.CLOSURE_CHANGE: frozenset({_R.SUPERVISOR, _R.ADMINISTRATOR}),
    Action.RESOURCE_CHANGE: frozenset({_R.ADMINISTRATOR}),
    Action.ROSTER_CHANGE: frozenset({_R.SUPERVISOR, _R.ADMINISTRATOR}),
    Action.ROUTE_CHANGE: frozenset({_R.ADMINISTRATOR}),
    Action.SITE_CHANGE: frozenset({_R.ADMINISTRATOR}),
    Action.MEMBER_CHANGE: frozenset({_R.ADMINISTRATOR}),
    Action.WEBHOOK_CHANGE: frozenset({_R.ADMINISTRATOR}),
}


def may(role: Role | None, action: Action) -> bool:
    """Whether somebody with `role` (None: a stranger) may do `action`."""
    return role is not None and role in PERMISSIONS[action]


def require(role: Role | None, action: Action) -> None:
    """Raise NotAllowedError unless `may(role, action)`; the message says who may."""
    if not may(role, action):
        told = {"action": action.words, "who": either(sorted(PERMISSIONS[action]))}
        raise NotAllowedError(
            _("{action:phrase}: only an {who} of this site may do that", **told)
            if told["who"].startswith("a")
            else _("{action:phrase}: only a {who} of this site may do that", **told)
        )
