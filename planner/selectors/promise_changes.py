"""What a plan promises otherwise than the one before it, and whom that concerns."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from planner.domain.states import OPEN_WORK
from planner.models import Site, TyreFollow, User, WorkOrder
from planner.selectors.plan_promises import ReadyPromise


@dataclass(frozen=True, slots=True, kw_only=True)
class PromiseChange:
    """An open order whose promised ready time changes; None: not promised."""

    order: WorkOrder
    before: datetime | None
    after: ReadyPromise | None
    followers: tuple[User, ...]

    @property
    def now(self) -> datetime | None:
        """The new time."""
        return self.after.ready_at if self.after else None

    @property
    def is_later(self) -> bool:
        """Whether it is worse than before."""
        return self.before is not None and (self.now is None or self.now > self.before)


def followed_change_list(
    *, site: Site, before: Mapping[str, ReadyPromise], after: Mapping[str, ReadyPromise]
) -> list[PromiseChange]:
    """Every change that somebody follows who still belongs to the site, with who does; by order."""
    moved = promises_moved(before, after)
    return [
        PromiseChange(
            order=order,
            before=moved[order.code][0],
            after=after.get(order.code),
            followers=tuple(followers),
        )
        for order, followers in _followed(site)
        if order.code in moved
    ]


def promises_moved(
    before: Mapping[str, ReadyPromise], after: Mapping[str, ReadyPromise]
) -> dict[str, tuple[datetime | None, datetime | None]]:
    """Every order whose ready time changes, by its code: the time before and the time now; None: none."""
    ready = {code: (_ready(before, code), _ready(after, code)) for code in sorted({*before, *after})}
    return {code: (was, now) for code, (was, now) in ready.items() if was != now}


def _ready(promises: Mapping[str, ReadyPromise], code: str) -> datetime | None:
    promise = promises.get(code)
    return promise.ready_at if promise else None


def _followed(site: Site) -> list[tuple[WorkOrder, list[User]]]:
    members = User.objects.filter(is_active=True, memberships__site=site)
    followers: dict[int, list[User]] = {}
    for follow in (
        TyreFollow.objects.filter(site=site, user__in=members).select_related("user").order_by("pk")
    ):
        followers.setdefault(follow.tyre_id, []).append(follow.user)
    orders = WorkOrder.objects.filter(site=site, state__in=OPEN_WORK, tyre__in=followers)
    return [(order, followers[order.tyre_id]) for order in orders.select_related("tyre", "machine", "site")]
