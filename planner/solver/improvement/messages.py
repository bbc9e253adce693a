"""What the workers of one search tell each other, and how it goes through a pipe."""

import pickle
from dataclasses import dataclass
from io import FileIO
from typing import IO

from planner.domain.plan import Score
from planner.domain.problem import BayProblem
from planner.scheduling.dispatch.board import Snapshot
from planner.solver.improvement.cooling import Cooling

_LENGTH_BYTES = 8


@dataclass(frozen=True, slots=True)
class Begin:
    """What a worker needs to know once."""

    problem: BayProblem
    start: Snapshot
    cooling: Cooling
    seed: int
    number: int


@dataclass(frozen=True, slots=True)
class Advance:
    """Walk on for so many insertions, with this cooling, from `plan` where one is given."""

    insertions: int
    cooling: Cooling
    plan: Snapshot | None = None


@dataclass(frozen=True, slots=True)
class Found:
    """Where a worker has got to: its best score, and the plan if it is new."""

    score: Score
    plan: Snapshot | None


def send(pipe: IO[bytes], message: object) -> None:
    """Write one message with its length in front."""
    body = pickle.dumps(message)
    pipe.write(len(body).to_bytes(_LENGTH_BYTES, "big") + body)
    pipe.flush()


def receive(pipe: IO[bytes] | FileIO) -> object | None:
    """Read one message; None where the other side has closed the pipe or died half way."""
    head = _exactly(pipe, _LENGTH_BYTES)
    if len(head) < _LENGTH_BYTES:
        return None
    length = int.from_bytes(head, "big")
    body = _exactly(pipe, length)
    if len(body) < length:
        return None
    # Both ends are this program: nothing else ever writes to the pipe.
    message: object = pickle.loads(body)  # noqa: S301
    return message


def _exactly(pipe: IO[bytes] | FileIO, count: int) -> bytes:
    """So many bytes, or fewer where the pipe is closed before; an unbuffered pipe gives them in parts."""
    body = b""
    while len(body) < count and (part := pipe.read(count - len(body))):
        body += part
    return body
