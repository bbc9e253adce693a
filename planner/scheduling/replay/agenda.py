"""What comes next in a replay: the piece that may begin first; of two, the one that kept to the plan."""

from collections import defaultdict
from collections.abc import Sequence
from heapq import heappop, heappush

from planner.scheduling.replay.piece import Piece


class Agenda:
    """The next piece of each job by the moment from which it may begin [min after the calendar's base].

    A job waits for those that its tyre has before it, a tyre for the one that stands on its position.
    """

    def __init__(self, firsts: Sequence[Piece], base: int) -> None:
        self._base = base
        self._rows: list[tuple[int, int, int, Piece]] = []
        self._ahead = {piece.job.id for piece in firsts}
        self._behind: dict[str, list[Piece]] = defaultdict(list)
        self._stands_on: dict[str, str] = {}
        self._wanted: dict[str, list[Piece]] = defaultdict(list)
        for piece in firsts:
            self._line_up(piece, 0)

    def take(self) -> tuple[int, Piece] | None:
        """The piece whose moment comes first, where any is left."""
        if not self._rows:
            return None
        moment, *_, piece = heappop(self._rows)
        return moment, piece

    def put(self, piece: Piece, moment: int) -> None:
        """Let a piece come at this moment."""
        late = max(0, moment - (piece.start - self._base))
        heappush(self._rows, (moment, late, piece.parts[0].place, piece))

    def is_quiet_until(self, moment: int) -> bool:
        """Whether nothing else comes up to that moment, so that what was found for it stays true."""
        return not self._rows or self._rows[0][0] > moment

    def must_wait(self, piece: Piece) -> bool:
        """Whether another tyre stands where this one would; it then comes once that one has left."""
        spot = piece.takes
        if spot is None or self._stands_on.get(spot, piece.job.id) == piece.job.id:
            return False
        self._wanted[spot].append(piece)
        return True

    def over(self, piece: Piece, end: int, ready: int) -> None:
        """A piece ends: what follows it may begin when `ready`, who waits for its place at its `end`."""
        if piece.takes is not None:
            self._stands_on[piece.takes] = piece.job.id
        for spot in piece.leaves:
            self._leave(spot, end)
        if piece.following is not None:
            self.put(piece.following, ready)
            return
        self._ahead.discard(piece.job.id)
        for waiting in self._behind.pop(piece.job.id, []):
            self._line_up(waiting, end)

    def give_up(self, piece: Piece, moment: int) -> None:
        """A tyre no longer fits these days: it is taken off its position."""
        for spot in [spot for spot, job in self._stands_on.items() if job == piece.job.id]:
            self._leave(spot, moment)

    def _leave(self, spot: str, moment: int) -> None:
        self._stands_on.pop(spot, None)
        for waiting in self._wanted.pop(spot, []):
            self.put(waiting, max(moment, waiting.start - self._base))

    def _line_up(self, piece: Piece, moment: int) -> None:
        """Let a job begin from a moment on, unless another of its tyre comes first."""
        before = next((job for job in piece.job.after if job in self._ahead), None)
        if before is None:
            self.put(piece, max(moment, piece.start - self._base))
        else:
            self._behind[before].append(piece)
