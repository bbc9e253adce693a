"""Bay problem files that are wrong, each with the fault that must be named."""

import json
from collections.abc import Callable
from typing import Any

from planner.scheduling.problem_format import problem_write
from planner.scheduling.strict_json import MOST_BYTES
from tests.lib.bays import bay, hands_on, job

Change = Callable[[dict[str, Any]], object]


def table() -> dict[str, Any]:
    """A good problem as JSON: J1 with a heat block, J2 with one stage of hands-on work."""
    written: dict[str, Any] = json.loads(problem_write(bay(job("J1"), job("J2", hands_on("buff", 45)))))
    return written


def setter(path: str, value: Any) -> Change:
    """A change that puts a value at a path such as `jobs.0.stages.1.minutes`."""

    def change(root: dict[str, Any]) -> None:
        *way, last = path.split(".")
        here: Any = root
        for step in way:
            here = here[int(step)] if step.isdigit() else here[step]
        here[int(last) if last.isdigit() else last] = value

    return change


SHIFT_START = "2026-03-02T06:00:00+00:00"
STAGE = {"name": "rig", "start": SHIFT_START, "end": "2026-03-02T06:30:00+00:00"}
LOCK: dict[str, Any] = {"job": "J1", "stages": [STAGE]}


def _lock(**changes: Any) -> dict[str, Any]:
    """J1's first stage locked, with changes to it."""
    return {"job": "J1", "stages": [{**STAGE, **changes}]}


CASES: dict[str, tuple[Change, str]] = {
    "no work": (setter("jobs.0.stages.1.minutes", 0), "jobs[0].stages[1].minutes: must be more than 0"),
    "text for a number": (
        setter("jobs.0.priority", "1"),
        "jobs[0].priority: must be a number, not text",
    ),
    "true for a number": (
        setter("grid_minutes", True),
        "grid_minutes: must be a number, not true or false",
    ),
    "a number for true": (
        setter("rules.handover_allowed", 1),
        "rules.handover_allowed: must be true or false, not a number",
    ),
    "null for a list": (setter("jobs", None), "jobs: must be a list, not null"),
    "half a channel": (
        setter("heater_sets.0.channels", 1.5),
        "heater_sets[0].channels: must be a whole number, not 1.5",
    ),
    "no offset": (
        setter("horizon.start", "2026-03-02T00:00:00"),
        'horizon.start: must carry its offset from UTC, not "2026-03-02T00:00:00"',
    ),
    "half a minute": (
        setter("jobs.1.needed_by", "2026-03-02T09:00:30Z"),
        'jobs[1].needed_by: must be on a whole minute, not "2026-03-02T09:00:30Z"',
    ),
    "no such day": (
        setter("jobs.1.needed_by", "2026-02-30T09:00:00Z"),
        'jobs[1].needed_by: must be a time such as 2026-03-02T06:00:00+08:00, not "2026-02-30T09:00:00Z"',
    ),
    "a shift that ends first": (
        setter("technicians.0.shifts.0.end", SHIFT_START),
        f"technicians[0].shifts[0].end: must be after its start, {SHIFT_START}",
    ),
    "a horizon of centuries": (
        setter("horizon.end", "2199-01-01T00:00:00Z"),
        "horizon.end: the horizon must have at most 366 days",
    ),
    "beyond all measure": (
        setter("heater_sets.0.power_kw", 1e300),
        "heater_sets[0].power_kw: must be at most 100000",
    ),
    "an unknown field": (
        setter("jobs.0.priorty", 3),
        "jobs[0].priorty: is not a field of a job, did you mean priority?",
    ),
    "an id twice": (setter("jobs.1.id", "J1"), 'jobs[1].id: "J1" is already taken by jobs[0].id'),
    "a stage twice": (
        setter("jobs.0.stages.3.name", "rig"),
        'jobs[0].stages[3].name: "rig" is already taken by jobs[0].stages[0].name',
    ),
    "an unknown set": (
        setter("jobs.0.heater_sets", ["H1", "H9"]),
        'jobs[0].heater_sets[1]: there is no heater set "H9"',
    ),
    "an unknown position": (
        setter("jobs.0.positions.cure", ["C9"]),
        'jobs[0].positions.cure[0]: there is no position "C9"',
    ),
    "an unknown job before": (setter("jobs.0.after", ["J9"]), 'jobs[0].after[0]: there is no job "J9"'),
    "after itself": (setter("jobs.0.after", ["J1"]), 'jobs[0].after: goes in a circle: "J1" after "J1"'),
    "a block in two parts": (
        setter("jobs.0.stages.1.block", False),
        "jobs[0].stages[2].block: the stages of the heat block must follow one another",
    ),
    "a wait in the block": (
        setter("jobs.0.stages.1.min_wait_after", 5),
        "jobs[0].stages[1].min_wait_after: must be 0 inside the heat block, which is never interrupted",
    ),
    "waits that contradict": (
        lambda root: root["jobs"][1]["stages"][0].update(min_wait_after=9, max_wait_after=8),
        "jobs[1].stages[0].min_wait_after: must not be more than max_wait_after (9 > 8 min)",
    ),
    "nobody on hands-on work": (
        setter("jobs.1.stages.0.crew", None),
        "jobs[1].stages[0].crew: a hands-on stage needs a crew of at least 1",
    ),
    "a crew on a cure": (
        setter("jobs.0.stages.1.crew", 1),
        "jobs[0].stages[1].crew: belongs to hands-on stages only, this one is energised",
    ),
    "an unknown kind": (
        setter("jobs.0.stages.1.kind", "hot"),
        'jobs[0].stages[1].kind: must be one of hands_on, energised, pressurised, wait, not "hot"',
    ),
    "an unknown zone": (
        setter("time_zone", "Mars/Base"),
        'time_zone: there is no time zone "Mars/Base": use an IANA name such as Australia/Perth',
    ),
    "another format": (
        setter("format", "bay-problem/2"),
        'format: must be "bay-problem/1", not "bay-problem/2"',
    ),
    "a break outside": (
        setter(
            "technicians.0.shifts.0.breaks",
            [{"start": "2026-03-02T05:45:00Z", "end": "2026-03-02T06:15:00Z"}],
        ),
        "technicians[0].shifts[0].breaks[0]: must lie inside its shift",
    ),
    "shifts that overlap": (
        lambda root: root["technicians"][0]["shifts"].append(
            {"start": "2026-03-02T17:00:00Z", "end": "2026-03-02T20:00:00Z"}
        ),
        "technicians[0].shifts[1]: overlaps another shift of the same technician, technicians[0].shifts[0]",
    ),
    "an unknown locked job": (
        setter("locked", [{**LOCK, "job": "J9"}]),
        'locked[0].job: there is no job "J9"',
    ),
    "an unknown locked stage": (
        setter("locked", [{**LOCK, "job": "J2"}]),
        'locked[0].stages[0].name: job "J2" has no stage "rig"',
    ),
    "an unknown locked technician": (
        setter("locked", [_lock(technicians=["Zoe"])]),
        'locked[0].stages[0].technicians[0]: there is no technician "Zoe"',
    ),
    "a missing field": (lambda root: root["jobs"][0].pop("needed_by"), "jobs[0].needed_by: is missing"),
    "two jobs after each other": (
        lambda root: (root["jobs"][0].update(after=["J2"]), root["jobs"][1].update(after=["J1"])),
        'jobs[0].after: goes in a circle: "J1" after "J2" after "J1"',
    ),
    "a grid below nothing": (setter("grid_minutes", -5), "grid_minutes: must be at least 1, not -5"),
    "a grid of nothing": (setter("grid_minutes", 0), "grid_minutes: must be at least 1, not 0"),
    "a grid above an hour": (setter("grid_minutes", 61), "grid_minutes: must be at most 60"),
    "a horizon that ends first": (
        setter("horizon.end", "2026-03-01T00:00:00Z"),
        "horizon.end: must be after its start, 2026-03-02T00:00:00+00:00",
    ),
    "the last year of all": (
        setter("jobs.0.needed_by", "9999-12-31T23:59:00-23:00"),
        'jobs[0].needed_by: must be in the years 1990 to 2200, not "9999-12-31T23:59:00-23:00"',
    ),
    "an offset of days": (
        setter("horizon.start", "2026-03-02T00:00:00+99:00"),
        'horizon.start: must be a time such as 2026-03-02T06:00:00+08:00, not "2026-03-02T00:00:00+99:00"',
    ),
    "a day for a time": (
        setter("jobs.0.needed_by", "2026-03-02"),
        'jobs[0].needed_by: must be a time such as 2026-03-02T06:00:00+08:00, not "2026-03-02"',
    ),
    "a number for a time": (
        setter("jobs.0.needed_by", 5),
        "jobs[0].needed_by: must be a time as text, not a number",
    ),
    "a number for an id": (setter("jobs.0.id", 7), "jobs[0].id: must be text, not a number"),
    "no name": (setter("jobs.0.id", ""), "jobs[0].id: must not be empty"),
    "an endless name": (
        setter("jobs.0.id", "x" * 100_000),
        "jobs[0].id: must have at most 200 characters, has 100000",
    ),
    "half a character in a name": (
        setter("jobs.0.id", "\ud800"),
        'jobs[0].id: must be one line of readable text, not "\\ud800"',
    ),
    "half a character for a field": (
        setter("\ud800", 1),
        '["\\ud800"]: is not a field of a bay problem',
    ),
    "true for a count": (
        setter("heater_sets.0.channels", True),
        "heater_sets[0].channels: must be a number, not true or false",
    ),
    "a priority beyond 100": (setter("jobs.0.priority", 101), "jobs[0].priority: must be at most 100"),
    "minutes beyond a year": (
        setter("jobs.0.stages.1.minutes", 10**30),
        "jobs[0].stages[1].minutes: must be at most 527040",
    ),
    "a crew of millions": (
        setter("jobs.1.stages.0.crew", 10**9),
        "jobs[1].stages[0].crew: must be at most 1000",
    ),
    "a wait below nothing": (
        setter("jobs.1.stages.0.min_wait_after", -1),
        "jobs[1].stages[0].min_wait_after: must be at least 0, not -1",
    ),
    "no stages": (setter("jobs.0.stages", []), "jobs[0].stages: must have 1 to 100 items, has 0"),
    "null for a stage": (
        setter("jobs.0.stages.1", None),
        "jobs[0].stages[1]: must be an object, not null",
    ),
    "a list for an object": (
        setter("jobs.0.positions", ["C1"]),
        "jobs[0].positions: must be an object, not a list",
    ),
    "work without a skill": (
        setter("jobs.1.stages.0.skill", None),
        "jobs[1].stages[0].skill: a hands-on stage needs a skill",
    ),
    "a cure that pauses": (
        setter("jobs.0.stages.1.pausable", True),
        "jobs[0].stages[1].pausable: belongs to hands-on stages only, this one is energised",
    ),
    "a set listed twice": (
        setter("jobs.0.heater_sets", ["H1", "H1"]),
        "jobs[0].heater_sets[1]: is listed twice: H1",
    ),
    "a technician twice": (
        lambda root: root["technicians"].append(root["technicians"][0]),
        'technicians[1].id: "Ada" is already taken by technicians[0].id',
    ),
    "nobody attends": (
        setter("rules.cures_per_attendant", 0),
        "rules.cures_per_attendant: must be at least 1, not 0",
    ),
    "power below nothing": (
        setter("rules.power_limit_kw", -1),
        "rules.power_limit_kw: must be at least 0, not -1",
    ),
    "an unknown rule": (setter("rules.colour", 1), "rules.colour: is not a field of the rules"),
    "an isolation that ends first": (
        setter("power_off", [{"start": SHIFT_START, "end": "2026-03-01T00:00:00Z"}]),
        f"power_off[0].end: must be after its start, {SHIFT_START}",
    ),
    "a zone that is a path": (
        setter("time_zone", "../../etc/passwd"),
        'time_zone: there is no time zone "../../etc/passwd": use an IANA name such as Australia/Perth',
    ),
    "locked stages that end first": (
        setter("locked", [_lock(end="2026-03-02T05:30:00+00:00")]),
        f"locked[0].stages[0].end: must be after its start, {SHIFT_START}",
    ),
    "a locked time without offset": (
        setter("locked", [_lock(start="2026-03-02T06:00:00")]),
        'locked[0].stages[0].start: must carry its offset from UTC, not "2026-03-02T06:00:00"',
    ),
    "an unknown locked set": (
        setter("locked", [_lock(heater_set="H9")]),
        'locked[0].stages[0].heater_set: there is no heater set "H9"',
    ),
    "an unknown locked position": (
        setter("locked", [_lock(position="C9")]),
        'locked[0].stages[0].position: there is no position "C9"',
    ),
    "a job locked twice": (
        setter("locked", [LOCK, LOCK]),
        'locked[1].job: "J1" is already taken by locked[0].job',
    ),
    "a locked stage twice": (
        setter("locked", [{"job": "J1", "stages": 2 * [STAGE]}]),
        'locked[0].stages[1].name: "rig" is already taken by locked[0].stages[0].name',
    ),
}
"""Changes to `table()`, each with its fault."""


def _with_minutes(number: bytes) -> bytes:
    """A good file but for the minutes of one stage."""
    return problem_write(bay()).replace(b'"minutes": 120', b'"minutes": ' + number)


RAW: dict[str, tuple[bytes, str]] = {
    "empty": (b" \n", "the file is empty"),
    "a byte order mark": (
        b"\xef\xbb\xbf{}",
        "the file starts with a byte order mark: save it as UTF-8 without one",
    ),
    "not UTF-8": (b'{"a": "\xff"}', "the file is not UTF-8: byte 7 cannot be read"),
    "not JSON": (
        b"{jobs}",
        "not JSON: Expecting property name enclosed in double quotes at line 1, column 2",
    ),
    "a list": (b"[]", "must be an object, not a list"),
    "too deep": (b"[" * 100_000, "not readable: lists or objects are nested too deeply"),
    "too large": (
        b" " * (MOST_BYTES + 1),
        "the file is too large: 16.0 MB, at most 16 MB are read",
    ),
    "UTF-16": ("{}".encode("utf-16"), "the file is not UTF-8: byte 0 cannot be read"),
    "UTF-16 without a mark": (
        "{}".encode("utf-16-le"),
        "not JSON: Expecting property name enclosed in double quotes at line 1, column 2",
    ),
    "zeros": (bytes(10), "not JSON: Expecting value at line 1, column 1"),
    "more than one value": (b"{} {}", "not JSON: Extra data at line 1, column 4"),
    "null": (b"null", "must be an object, not null"),
    "deep objects": (b'{"a":' * 100_000, "not readable: lists or objects are nested too deeply"),
    "a deep field": (
        _with_minutes(b"[" * 900 + b"]" * 900),
        "jobs[0].stages[1].minutes: must be a number, not a list",
    ),
    "1e400": (_with_minutes(b"1e400"), "jobs[0].stages[1].minutes: must be at most 527040"),
    "more digits than Python reads": (
        _with_minutes(b"9" * 5000),
        "jobs[0].stages[1].minutes: must be at most 527040",
    ),
    "not a number": (_with_minutes(b"NaN"), "jobs[0].stages[1].minutes: must be a number, not NaN"),
    "a key twice": (
        problem_write(bay()).replace(b'"grid_minutes": 15', b'"grid_minutes": 15, "grid_minutes": 5'),
        "grid_minutes: is given more than once",
    ),
}
"""Files by their bytes, and their first fault."""
