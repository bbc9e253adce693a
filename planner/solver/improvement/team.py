"""The workers of one search: one here, the others in processes of their own, in step by rounds of work."""

import logging
import os
import select
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from random import Random
from typing import IO

from planner.domain.plan import Score
from planner.domain.progress import StopSignal
from planner.scheduling.dispatch.board import Board, Snapshot
from planner.solver.improvement import worker
from planner.solver.improvement.cooling import Cooling
from planner.solver.improvement.messages import Advance, Begin, Found, receive, send
from planner.solver.improvement.walk import Walk

LOOK_SECONDS = 0.05
MOST_LOOKS_AFTER_STOP = 10
DYING_SECONDS = 1.0
"""How long a worker whose pipe is closed may take to be gone."""

_log = logging.getLogger(__name__)


class Colleague:
    """A worker in another process."""

    def __init__(self) -> None:
        self._process = subprocess.Popen(  # noqa: S603
            [sys.executable, "-m", worker.__name__],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(path or "." for path in sys.path)},
            # A signal to all of a terminal or of a group is for the process that plans, which ends this one.
            start_new_session=True,
        )
        self.best: tuple[Score, Snapshot] | None = None
        self._interrupted = self._is_dead = self._is_walking = False

    @property
    def _inward(self) -> IO[bytes]:
        return _open(self._process.stdin)

    def tell(self, message: Begin | Advance) -> None:
        """What it has to know, or that it shall walk on."""
        self._is_walking = isinstance(message, Advance) and not (self._is_dead or self._interrupted)
        if self._is_walking or isinstance(message, Begin):
            # Who is gone does not hear; that is noted when no answer comes.
            with suppress(BrokenPipeError):
                send(self._inward, message)

    def answer(self, stop: StopSignal) -> None:
        """Wait for the end of its round, which `stop` ends early: whoever is still starting is left behind.

        A worker that has died leaves what it found before, and is not asked again.
        """
        if not self._is_walking:
            return
        pipe, asked = _open(self._process.stdout), 0
        while not select.select([pipe], [], [], LOOK_SECONDS)[0]:
            if stop():
                self.interrupt()
                asked += 1
            if asked > MOST_LOOKS_AFTER_STOP:
                return
        found = receive(pipe)
        if found is None:
            self._died()
        elif isinstance(found, Found) and found.plan is not None:
            self.best = (found.score, found.plan)

    def _died(self) -> None:
        self._is_dead = True
        with suppress(subprocess.TimeoutExpired):
            self._process.wait(DYING_SECONDS)
        if self._interrupted:
            return
        _log.warning(
            "improvement worker %s died with code %s; the search goes on without it",
            self._process.pid,
            self._process.returncode,
        )

    def interrupt(self) -> None:
        """End its round early; after that it walks no more."""
        if self._interrupted:
            return
        self._interrupted = True
        with suppress(BrokenPipeError):
            self._inward.write(b"\0")
            self._inward.flush()

    def dismiss(self) -> None:
        """End it."""
        self._process.kill()
        self._process.wait()
        with suppress(BrokenPipeError):
            self._inward.close()
        _open(self._process.stdout).close()


def _open(pipe: IO[bytes] | None) -> IO[bytes]:
    if pipe is None:
        raise BrokenPipeError("a worker has no pipe")
    return pipe


class Team:
    """A walk here and the colleagues'; after each round all know the best plan."""

    def __init__(self, board: Board, cooling: Cooling, seed: int, colleagues: list[Colleague]) -> None:
        self.walk = Walk(board, Random(f"{seed}/0"), cooling)  # noqa: S311
        self._colleagues = colleagues
        self._cycle = 0
        self._plans: list[Snapshot | None] = [None] * len(colleagues)

    @property
    def insertions(self) -> int:
        """What has been tried by all together."""
        return self.walk.insertions * (1 + len(self._colleagues))

    def best(self) -> tuple[Score, Snapshot]:
        """The best plan of all; of equals that of the first worker."""
        own = (self.walk.best_score, self.walk.best)
        others = [one.best for one in self._colleagues if one.best is not None]
        return min([own, *others], key=lambda found: found[0])

    def round(self, insertions: int, stop: StopSignal) -> None:
        """Let everybody try so many insertions; the best plan is shared when a cooling has ended."""
        plan = self._plan_to_share()
        if plan is not None:
            self.walk.go_on_from(plan)
        with self.colleagues_walking(insertions, stop, plan):
            self.walk.advance(insertions, stop)

    @contextmanager
    def colleagues_walking(
        self, insertions: int, stop: StopSignal, plan: Snapshot | None = None
    ) -> Iterator[None]:
        """The others walk while the block does something else; its end waits for them."""
        for colleague in self._colleagues:
            colleague.tell(Advance(insertions, self.walk.cooling, plan))
        yield
        for colleague in self._colleagues:
            if stop():
                colleague.interrupt()
        for colleague in self._colleagues:
            colleague.answer(stop)

    def expect(self, insertions: float) -> None:
        """Let the cooling last for so many insertions of each worker."""
        self.walk.cooling = self.walk.cooling.lasting(insertions)

    def _plan_to_share(self) -> Snapshot | None:
        cycle = self.walk.cooling.cycle(self.walk.insertions)
        if cycle == self._cycle:
            return None
        self._cycle = cycle
        return self.best()[1]


@contextmanager
def team_of(board: Board, cooling: Cooling, seed: int, workers: int) -> Iterator[Team]:
    """A team of `workers` that starts from the plan on `board`; its processes end with the block."""
    colleagues: list[Colleague] = []
    try:
        # Where no process can be had, the walk goes on with fewer: slower, never wrong.
        with suppress(OSError):
            for number in range(1, workers):
                colleagues.append(Colleague())
                colleagues[-1].tell(Begin(board.bay.problem, board.snapshot(), cooling, seed, number))
        yield Team(board, cooling, seed, colleagues)
    finally:
        for colleague in colleagues:
            colleague.dismiss()
