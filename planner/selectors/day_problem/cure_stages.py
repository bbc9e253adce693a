"""The cure's own minutes in the stages of a heat block, in place of the route's."""

from collections.abc import Sequence
from dataclasses import replace

from planner.domain.sentences import Sentence, _
from planner.domain.work import Stage, StageKind
from planner.selectors.cure_figures import CureFigures


def stages_with_cure(stages: Sequence[Stage], figures: CureFigures | None) -> tuple[Stage, ...]:
    """The stages with heat-up, cure and cool-down from chart and model; the route's where there are none.

    In a block the last energised stage is the cure, one before it heats up, and the pressurised one cools.
    Without a stage of its own the heat-up counts to the cure. Blocks of another shape keep their minutes,
    and so does a repair that the chart does not reach: nothing is made up.
    """
    if figures is None or figures.timed_min is None:
        return tuple(stages)
    minutes = _minutes(stages, figures.heat_up_min, figures.timed_min, figures.cool_down_min)
    return tuple(
        replace(stage, minutes=max(minutes[stage.name], 1)) if stage.name in minutes else stage
        for stage in stages
    )


def _minutes(stages: Sequence[Stage], heat_up: int, timed: int, cool_down: int) -> dict[str, int]:
    """The minutes by the stage's name; none where the block has another shape."""
    energised = [stage.name for stage in stages if stage.block and stage.kind is StageKind.ENERGISED]
    pressurised = [stage.name for stage in stages if stage.block and stage.kind is StageKind.PRESSURISED]
    if len(energised) not in (1, 2) or len(pressurised) > 1:
        return {}
    own = (timed + heat_up,) if len(energised) == 1 else (heat_up, timed)
    return dict(zip(energised, own, strict=True)) | dict.fromkeys(pressurised, cool_down)


def cure_warnings(damage_words: str, figures: CureFigures | None) -> tuple[Sentence, ...]:
    """What a planner should know of the cure before it is planned."""
    if figures is None or not figures.doubtful:
        return ()
    if figures.timed_min is None:
        return (
            _(
                "cure of {damage}: {message}; the route's minutes are planned until then",
                damage=damage_words,
                message=figures.message,
            ),
        )
    return (
        _(
            "cure of {damage}: {timed_min} min by the chart, {message}",
            damage=damage_words,
            timed_min=figures.timed_min,
            message=figures.message,
        ),
    )
