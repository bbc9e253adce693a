"""Each fault of a problem file is named with its place."""

import json
from collections.abc import Callable
from typing import Any

import pytest

from planner.scheduling.faults import FaultyFileError
from planner.scheduling.problem_format import problem_read, problem_write
from planner.scheduling.strict_json import MOST_BYTES
from tests.lib.bays import bay, hands_on, job

Change = Callable[[dict[str, Any]], None]


def table() -> dict[str, Any]:
    """A good problem as JSON: J1 with a heat block, J2 with one stage of hands-on work."""
    written: dict[str, Any] = json.loads(problem_write(bay(job("J1"), job("J2", hands_on("buff", 45)))))
    return written


def faults_of(raw: bytes) -> list[str]:
    """The faults of a file as they are printed."""
    with pytest.raises(FaultyFileError) as caught:
        problem_read(raw)
    return [str(fault) for fault in caught.value.faults]


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
LOCK = {"job": "J1", "stages": [{"name": "rig", "start": SHIFT_START, "end": "2026-03-02T06:30:00+00:00"}]}

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
        setter("locked", [{"job": "J1", "stages": [{**LOCK["stages"][0], "technicians": ["Zoe"]}]}]),  # type: ignore[dict-item]
        'locked[0].stages[0].technicians[0]: there is no technician "Zoe"',
    ),
    "a missing field": (lambda root: root["jobs"][0].pop("needed_by"), "jobs[0].needed_by: is missing"),
}


@pytest.mark.parametrize("name", CASES)
def test_a_fault_is_named_with_its_place(name: str) -> None:
    change, expected = CASES[name]
    root = table()
    change(root)
    assert expected in faults_of(json.dumps(root).encode())


def test_the_table_is_good_before_it_is_changed() -> None:
    assert problem_read(json.dumps(table()).encode()).warnings == ()


def test_all_faults_are_told_at_once() -> None:
    root = table()
    for name in ("no work", "an id twice", "an unknown zone"):
        CASES[name][0](root)
    assert {CASES[name][1] for name in ("no work", "an id twice", "an unknown zone")} == set(
        faults_of(json.dumps(root).encode())
    )


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
}


@pytest.mark.parametrize("name", RAW)
def test_a_file_that_cannot_be_read_says_why(name: str) -> None:
    raw, expected = RAW[name]
    assert faults_of(raw)[0] == expected


@pytest.mark.parametrize(("text", "kind"), [("NaN", "NaN"), ("-Infinity", "a number beyond all measure")])
def test_numbers_that_are_none_are_named_at_their_place(text: str, kind: str) -> None:
    raw = problem_write(bay()).replace(b'"minutes": 120', f'"minutes": {text}'.encode())
    (fault,) = faults_of(raw)
    assert fault.startswith("jobs[0].stages[1].minutes: must be")


def test_a_key_given_twice_is_a_fault() -> None:
    raw = problem_write(bay()).replace(b'"grid_minutes": 15', b'"grid_minutes": 15, "grid_minutes": 5')
    assert faults_of(raw) == ["grid_minutes: is given more than once"]


def test_a_million_jobs_are_one_fault() -> None:
    raw = problem_write(bay()).replace(b'"jobs": [', b'"jobs": [' + b"0," * 1_000_000)
    assert faults_of(raw) == ["jobs: must have 0 to 5000 items, has 1000001"]
