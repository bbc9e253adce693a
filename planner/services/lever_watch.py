"""Beside the trial of a lever: tells that somebody is at it, and whether to stop."""

from django.utils import timezone

from planner.models import LeverQuestion
from planner.services.side_watch import SideWatch

_PERIOD_SECONDS = 0.5
_HEARTBEAT_PERIODS = 20


class LeverWatch(SideWatch):
    """Twice a second reads whether the question was cancelled; every ten seconds it says that it lives."""

    def __init__(self, question_id: int) -> None:
        super().__init__(f"levers {question_id}")
        self._question = LeverQuestion.objects.filter(pk=question_id)

    def _watch(self) -> None:
        silent = 0
        while not self._over.wait(_PERIOD_SECONDS):
            if self._question.filter(cancel_requested=True).exists():
                self._stop.set()
                return
            silent += 1
            if silent >= _HEARTBEAT_PERIODS:
                self._question.update(heard_at=timezone.now())
                silent = 0
