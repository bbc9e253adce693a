"""A breach: one rule of the bay that a plan or locked work breaks, and where."""

from dataclasses import dataclass

from planner.domain.sentences import Sentence, _


@dataclass(frozen=True, slots=True, kw_only=True)
class Breach:
    """One broken rule in plain words; `rule` is the rule's stem, the ids are given where known."""

    rule: str
    message: Sentence
    job: str | None = None
    stage: str | None = None
    technician: str | None = None
    position: str | None = None
    heater_set: str | None = None

    @property
    def words(self) -> Sentence:
        """The rule's stem and what is broken."""
        return _("{rule}: {message}", rule=self.rule, message=self.message)

    def __str__(self) -> str:
        return str(self.words)
