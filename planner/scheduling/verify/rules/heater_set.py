"""One eligible heater set for the whole block, one job at a time with its turnaround, no set elsewhere."""

from collections import defaultdict
from collections.abc import Iterator

from planner.domain.bay_time import Span
from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.holdings import set_of
from planner.scheduling.verify.placed import PlacedJob
from planner.scheduling.verify.stretches import clashes
from planner.scheduling.verify.view import PlanView


def heater_set_check(view: PlanView) -> Iterator[Breach]:
    """Blocks without one eligible set, sets outside the block, sets with two jobs."""
    for job in view.placed.values():
        yield from _eligible(view, job)
    for name, blocks in _uses(view).items():
        for (_before, one), (span, two) in clashes(blocks):
            message = _(
                "{name}: {two} comes at {when:minute}, before {one} and its turnaround are over",
                name=name,
                two=two,
                when=view.when(span.start),
                one=one,
            )
            yield Breach(rule="heater_set", message=message, heater_set=name, job=two)


def _eligible(view: PlanView, job: PlacedJob) -> Iterator[Breach]:
    block = job.block()
    if block is not None and set_of(view, job) is None:
        names = tuple(dict.fromkeys(stage.planned.heater_set or _("none") for stage in block.stages))
        eligible = job.job.heater_sets or _("none")
        yield block.stages[0].breach(
            "heater_set",
            _("the block needs one eligible set ({eligible}), not {names}", eligible=eligible, names=names),
        )
    for placed in job.stages:
        if placed.planned.heater_set is not None and not placed.stage.block:
            yield placed.breach("heater_set", _("holds a heater set outside the heat block"))


def _uses(view: PlanView) -> dict[str, list[tuple[Span, str]]]:
    uses: dict[str, list[tuple[Span, str]]] = defaultdict(list)
    for job in view.placed.values():
        block, heater_set = job.block(), set_of(view, job)
        if block is not None and heater_set is not None:
            free = block.span.end + view.up(heater_set.turnaround_minutes)
            uses[heater_set.id].append((Span(block.span.start, free), job.job.id))
    return uses
