"""The ways through a job: for each piece, what it may hold (position pool, set pool, attendant)."""

from dataclasses import dataclass
from itertools import product

from planner.scheduling.dispatch.bay import Bay, BayJob
from planner.scheduling.dispatch.pieces import Piece

Held = tuple[int | None, int | None, int | None]
"""What a piece holds: a position pool, a set pool and an attendant, by number; None where it needs none."""


@dataclass(frozen=True, slots=True)
class Step:
    """A piece with all it may hold, and which of the three it keeps from the piece before."""

    piece: Piece
    choices: tuple[Held, ...]
    keeps: tuple[bool, bool, bool]

    def kept(self, held: Held) -> Held:
        """The part of `held` that must be the same on the piece before."""
        place, set_pool, attendant = self.keeps
        return (held[0] if place else None, held[1] if set_pool else None, held[2] if attendant else None)


Route = tuple[Step, ...]


def route_of(bay: Bay, job: BayJob) -> Route:
    """The steps of `job`."""
    watched = [number for number, piece in enumerate(job.pieces) if piece.watched] if bay.named_watch else []
    attending = range(watched[0], watched[-1] + 1) if watched else range(0)
    steps = []
    for number, piece in enumerate(job.pieces):
        before = job.pieces[number - 1] if number else None
        keeps = (
            before is not None and piece.stay is not None and piece.stay == before.stay,
            before is not None and piece.in_block and before.in_block,
            number in attending and number - 1 in attending,
        )
        choices = product(
            _places(bay, job, piece),
            job.sets if piece.in_block else (None,),
            _attendants(bay) if number in attending else (None,),
        )
        steps.append(Step(piece, tuple(choices), keeps))
    return tuple(steps)


def _attendants(bay: Bay) -> tuple[int, ...]:
    return tuple(number for number, one in enumerate(bay.crew) if one.attending)


def _places(bay: Bay, job: BayJob, piece: Piece) -> tuple[int | None, ...]:
    if piece.place is None:
        return (None,)
    choices = job.places.get(piece.place, ())
    held = {stage.position for other in job.pieces if other.stay == piece.stay for stage in other.locked}
    return tuple(number for number in choices if held <= {bay.places[number].members[0]})
