"""Name what the model pooled: technicians, positions and sets for a plan whose times are fixed."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

ClaimKey = tuple[str, int, int]
"""The job, the stage from which it claims, and the pool."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """Something that a pool must give to some of its members from `start` to `end` [min]."""

    key: ClaimKey
    start: int
    end: int
    members: tuple[str, ...]
    count: int = 1
    wanted: tuple[str, ...] = ()


@dataclass(slots=True)
class _Ledger:
    """Until when each member is taken, and how long it has been."""

    until: dict[str, int] = field(default_factory=dict)
    worked: dict[str, int] = field(default_factory=dict)

    def take(self, member: str, claim: Claim) -> None:
        self.until[member] = max(claim.end, self.until.get(member, claim.end))
        self.worked[member] = self.worked.get(member, 0) + claim.end - claim.start


def share_out(claims: Iterable[Claim]) -> dict[ClaimKey, tuple[str, ...]]:
    """Give each claim its members, earliest start first: whoever was wanted where free, else the least used.

    Where claims never outnumber their pool this always succeeds; where they do (a rule was taken out of
    the model) a member is given twice, for the checker to find.
    """
    ledger, given = _Ledger(), {}
    for claim in sorted(claims, key=lambda claim: (claim.start, claim.end, claim.key)):
        order = sorted(claim.members, key=_preference(ledger, claim))
        given[claim.key] = tuple(sorted(order[: claim.count]))
        for member in given[claim.key]:
            ledger.take(member, claim)
    return given


def _preference(ledger: _Ledger, claim: Claim) -> Callable[[str], tuple[bool, bool, int, int]]:
    place = {member: index for index, member in enumerate(claim.members)}

    def rank(member: str) -> tuple[bool, bool, int, int]:
        taken = ledger.until.get(member, claim.start) > claim.start
        return taken, member not in claim.wanted, ledger.worked.get(member, 0), place[member]

    return rank
