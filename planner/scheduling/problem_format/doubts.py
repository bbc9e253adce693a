"""Doubts: what is no fault of the file, but leaves a job that cannot be planned."""

from collections.abc import Iterator

from planner.domain.bay_time import round_down, round_up
from planner.domain.work import StageKind
from planner.scheduling.faults import shown
from planner.scheduling.shapes import Row

_HENCE = ": the job cannot be planned"


def doubts_of(root: Row) -> tuple[str, ...]:
    """A line for each doubt, with its place and the reason."""
    skills = [frozenset(technician["skills"]) for technician in root["technicians"]]
    kinds = {position["id"]: position["kinds"] for position in root["positions"]}
    lines: list[str] = []
    for job in root["jobs"]:
        lines.extend(_position_doubts(job, kinds))
        lines.extend(_set_doubts(job))
        lines.extend(_watch_doubts(job, root, skills))
        for stage in job["stages"]:
            lines.extend(_crew_doubts(stage, skills))
            lines.extend(_wait_doubts(stage, root["grid_minutes"]))
    return tuple(lines)


def _crew_doubts(stage: Row, skills: list[frozenset[str]]) -> Iterator[str]:
    if stage["kind"] is not StageKind.HANDS_ON:
        return
    skilled = sum(stage["skill"] in names for names in skills)
    if not skilled:
        yield f"{stage.at('skill').text}: nobody has the skill {shown(stage['skill'])}{_HENCE}"
    elif skilled < stage["crew"]:
        yield (
            f"{stage.at('crew').text}: {stage['crew']} are needed and only {skilled} have the skill "
            f"{shown(stage['skill'])}{_HENCE}"
        )


def _position_doubts(job: Row, kinds: dict[str, list[str]]) -> Iterator[str]:
    eligible = job["positions"] or {}
    for kind, names in eligible.items():
        for name in names:
            if kind not in kinds[name]:
                place = job.at("positions").field(kind).text
                yield f"{place}: position {shown(name)} is not of the kind {shown(kind)} and is left out"
    for stage in job["stages"]:
        kind = stage["place"]
        if kind is not None and not any(kind in kinds[name] for name in eligible.get(kind, ())):
            place = stage.at("place").text
            yield f"{place}: no eligible position is of the kind {shown(kind)}{_HENCE}"


def _set_doubts(job: Row) -> Iterator[str]:
    block = [stage for stage in job["stages"] if stage["block"]]
    if block and not job["heater_sets"]:
        yield f"{job.at('heater_sets').text}: no heater set fits the heat block{_HENCE}"
    for stage in job["stages"]:
        if stage["kind"] is StageKind.ENERGISED and not stage["block"]:
            place = stage.at("block").text
            yield f"{place}: energised outside the heat block: no set, power or channel is counted for it"


def _watch_doubts(job: Row, root: Row, skills: list[frozenset[str]]) -> Iterator[str]:
    rules = root["rules"]
    watched = [
        stage
        for stage in job["stages"]
        if stage["kind"] is StageKind.ENERGISED
        or (stage["kind"] is StageKind.PRESSURISED and rules["watch_cool_down"])
    ]
    if watched and not any(rules["watch_skill"] in names for names in skills):
        skill = shown(rules["watch_skill"])
        yield f"{watched[0].place.text}: nobody has the watch skill {skill}{_HENCE}"


def _wait_doubts(stage: Row, grid_minutes: int) -> Iterator[str]:
    least, most = stage["min_wait_after"] or 0, stage["max_wait_after"]
    if most is not None and round_up(least, grid_minutes) > round_down(most, grid_minutes):
        place = stage.at("min_wait_after").text
        yield f"{place}: no multiple of {grid_minutes} min is from {least} to {most} min{_HENCE}"
