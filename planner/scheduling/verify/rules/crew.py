"""Exactly the crew: as many as asked, distinct, known and skilled; nobody on other stages."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.placed import PlacedStage
from planner.scheduling.verify.view import PlanView


def crew_check(view: PlanView) -> Iterator[Breach]:
    """Stages with the wrong people."""
    for placed in view.stages():
        if placed.hands_on:
            yield from _crew(view, placed)
        elif placed.planned.technicians:
            yield placed.breach("crew", _("takes no technicians"))


def _crew(view: PlanView, placed: PlacedStage) -> Iterator[Breach]:
    crew, asked = placed.planned.technicians, placed.stage.crew
    if len(set(crew)) != len(crew) or len(crew) != asked:
        yield placed.breach(
            "crew", _("has the crew {crew}; {asked} are asked", crew=crew or _("nobody"), asked=asked)
        )
    for name in dict.fromkeys(crew):
        roster = view.rosters.get(name)
        if roster is None:
            yield placed.breach("crew", _("there is no technician {name}", name=name), name)
        elif placed.stage.skill not in roster.skills:
            yield placed.breach(
                "crew", _("{name} has not the skill {skill}", name=name, skill=placed.stage.skill), name
            )
