"""A noun's states and the moves between them."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from planner.domain.errors import InternalError, UserError
from planner.domain.sentences import Sentence, _
from planner.domain.states.move_words import MOVE_WORDS


class WrongStateError(UserError):
    """The thing is in a state from which this move does not lead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StateTable:
    """Which move leads from which state to which; what is not in the table cannot happen."""

    noun: Sentence
    first: StrEnum
    moves: Mapping[tuple[StrEnum, str], StrEnum]

    def after(self, state: str, move: str) -> str:
        """The state that `move` leads to.

        Raises WrongStateError where it does not lead on from `state`, naming the moves that do.
        """
        self._refuse_unknown(move)
        for (source, name), target in self.moves.items():
            if name == move and source == state:
                return target.value
        raise WrongStateError(
            _(
                "a {noun} that is {state:phrase} cannot {move} (possible now: {possible})",
                noun=self.noun,
                state=state.replace("_", " "),
                move=MOVE_WORDS[move],
                possible=tuple(MOVE_WORDS[name] for name in self.moves_from(state)) or _("none"),
            )
        )

    def allows(self, state: str, move: str) -> bool:
        """Whether `move` leads on from `state`."""
        self._refuse_unknown(move)
        return any(name == move and source == state for source, name in self.moves)

    def moves_from(self, state: str) -> tuple[str, ...]:
        """The moves that lead on from `state`, in the table's order."""
        return tuple(name for source, name in self.moves if source == state)

    def diagram(self) -> str:
        """The table as a Mermaid state diagram."""
        lines = ["stateDiagram-v2", f"    [*] --> {self.first}"]
        lines += [f"    {source} --> {target}: {name}" for (source, name), target in self.moves.items()]
        final = [state for state in dict.fromkeys(self.moves.values()) if not self.moves_from(state)]
        return "\n".join(lines + [f"    {state} --> [*]" for state in final])

    def _refuse_unknown(self, move: str) -> None:
        if move not in {name for _, name in self.moves}:
            raise InternalError(f"no table of {self.noun} has the move {move}")
