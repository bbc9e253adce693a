"""A worker process of one search: walks when it is told to, until its input is closed or says stop.

A process of its own rather than one of `multiprocessing`: those are refused inside a daemonic worker of a job
queue, where a plan is built in service.
"""

import select
import signal
import sys
from contextlib import suppress
from io import FileIO
from random import Random
from typing import IO

from planner.scheduling.dispatch.bay import bay_of
from planner.scheduling.dispatch.construct import board_of
from planner.solver.improvement.messages import Advance, Begin, Found, receive, send
from planner.solver.improvement.walk import Walk


def serve(inward: FileIO, outward: IO[bytes]) -> None:
    """Answer every `Advance` with a `Found` until the input is closed."""
    begin = receive(inward)
    if not isinstance(begin, Begin):
        return
    board = board_of(bay_of(begin.problem))
    board.restore(begin.start)
    walk = Walk(board, Random(f"{begin.seed}/{begin.number}"), begin.cooling)  # noqa: S311
    known = walk.best_score
    while isinstance(order := receive(inward), Advance):
        if order.plan is not None:
            walk.go_on_from(order.plan)
        walk.cooling = order.cooling
        walk.advance(order.insertions, lambda: _spoken_to(inward))
        send(outward, Found(walk.best_score, walk.best if walk.best_score != known else None))
        known = walk.best_score


def _spoken_to(pipe: FileIO) -> bool:
    """Whether something has come in while walking: it can only be the wish to stop."""
    return bool(select.select([pipe], [], [], 0)[0])


if __name__ == "__main__":
    # Ctrl-C is for the process that started this one, which then closes the pipe.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # Unbuffered, so that a look into the pipe sees all that has come in. A parent that is gone hears nothing.
    with FileIO(sys.stdin.fileno(), closefd=False) as inward, suppress(BrokenPipeError):
        serve(inward, sys.stdout.buffer)
