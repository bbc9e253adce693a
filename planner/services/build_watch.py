"""Beside a running build: its progress into the database, and the order to stop out of it."""

from django.utils import timezone

from planner.domain.progress import Progress
from planner.domain.states import PlanBuildState
from planner.models import PlanBuild
from planner.services.side_watch import SideWatch

_PERIOD_SECONDS = 0.25
_HEARTBEAT_PERIODS = 20
_LONGEST_CURVE = 400


class BuildWatch(SideWatch):
    """Four times a second, stores what is new and reads whether to stop."""

    def __init__(self, build_id: int) -> None:
        super().__init__(f"build {build_id}")
        self._build_id = build_id
        self._latest: Progress | None = None

    def tell(self, progress: Progress) -> None:
        """Take note of the newest progress, from any thread; the listener of a planner."""
        self._latest = progress

    def _watch(self) -> None:
        stored: Progress | None = None
        silent, over = 0, False
        while not over:
            over = self._over.wait(_PERIOD_SECONDS)
            latest, silent = self._latest, silent + 1
            if latest is not stored or silent >= _HEARTBEAT_PERIODS:
                self._store(latest)
                stored, silent = latest, 0
            self._read()

    def _store(self, progress: Progress | None) -> None:
        build = PlanBuild.objects.get(pk=self._build_id)
        build.progress_at = timezone.now()
        if progress is not None:
            build.phase, build.bound = progress.phase, progress.bound
            build.elapsed_seconds = progress.seconds
            if progress.score is not None:
                build.lateness, build.flow = progress.score.lateness, progress.score.flow
                build.curve = _grown(build.curve, [round(progress.seconds, 2), build.lateness, build.bound])
        build.save(update_fields=_PROGRESS_FIELDS)

    def _read(self) -> None:
        flags = PlanBuild.objects.filter(pk=self._build_id).values_list("state", "cancel_requested").first()
        if flags is None or flags[0] != PlanBuildState.RUNNING or flags[1]:
            self._stop.set()


_PROGRESS_FIELDS = ["progress_at", "phase", "bound", "elapsed_seconds", "lateness", "flow", "curve"]


def _grown(curve: list[list[float]], point: list[float]) -> list[list[float]]:
    """The curve with one more point; every second one goes when it gets long, never the first."""
    grown = [*curve, point]
    return grown if len(grown) <= _LONGEST_CURVE else [*grown[:-1:2], point]
