"""Which jobs to take off the board: neighbours in time, in the queue for a pool or a crew, or any."""

from collections.abc import Callable
from random import Random

from planner.scheduling.dispatch.bay import Bay
from planner.scheduling.dispatch.board import Board, Placement

Ruin = Callable[[Board, Random, int], list[int]]


def _planned(board: Board) -> list[Placement]:
    """The planned jobs that may be taken off: locked work stays."""
    jobs = board.bay.jobs
    return [one for one in board.placements if one is not None and not jobs[one.job].must]


def around_a_time(board: Board, random: Random, count: int) -> list[int]:
    """The jobs that end nearest to a random time."""
    planned = _planned(board)
    middle = random.uniform(board.bay.grid.first, board.bay.grid.end)
    planned.sort(key=lambda one: (abs(_middle(one) - middle), one.job))
    return [one.job for one in planned[:count]]


def around_a_job(board: Board, random: Random, count: int) -> list[int]:
    """A random job and others near it in time, the nearer the likelier."""
    planned = _planned(board)
    if not planned:
        return []
    chosen = random.choice(planned)
    planned.sort(key=lambda one: (abs(_middle(one) - _middle(chosen)), one.job))
    picked: list[int] = []
    while planned and len(picked) < count:
        picked.append(planned.pop(int(len(planned) * random.random() ** 4)).job)
    return picked


def around_a_left_out_job(board: Board, random: Random, count: int) -> list[int]:
    """The jobs in the time in which a job that is left out would be wanted."""
    jobs = board.bay.jobs
    missing = [jobs[number] for number, one in enumerate(board.placements) if one is None]
    planned = _planned(board)
    if not missing or not planned:
        return around_a_job(board, random, count)
    wanted = random.choice(missing)
    latest = max(wanted.release + 1, min(board.bay.grid.end, board.bay.grid.slot_before(wanted.needed_by)))
    middle = random.uniform(wanted.release, latest)
    near = [one for one in planned if jobs[one.job].priority <= wanted.priority or random.random() < 0.5]
    near.sort(key=lambda one: (abs(_middle(one) - middle), one.job))
    return [one.job for one in near[:count]]


def of_one_pool(board: Board, random: Random, count: int) -> list[int]:
    """A run of jobs that follow one another on the heater sets of one pool."""
    planned = _planned(board)
    pools = sorted({one.set_pool for one in planned if one.set_pool is not None})
    if not pools:
        return around_a_job(board, random, count)
    pool = random.choice(pools)
    queue = sorted((one.end, one.job) for one in planned if one.set_pool == pool)
    first = random.randrange(max(1, len(queue) - count + 1))
    return [job for _, job in queue[first : first + count]]


def late_ones(board: Board, random: Random, count: int) -> list[int]:
    """The jobs that cost most lateness, with some luck, and others that end before them."""
    jobs = board.bay.jobs
    planned = _planned(board)
    late = [one for one in planned if jobs[one.job].lateness(one.end)]
    if not late:
        return around_a_job(board, random, count)
    late.sort(key=lambda one: (-jobs[one.job].lateness(one.end) * random.random(), one.job))
    chosen = late[0]
    earlier = [one for one in planned if one.start < chosen.end and one is not chosen]
    earlier.sort(key=lambda one: (chosen.end - one.end + random.uniform(0, 100), one.job))
    return [chosen.job, *(one.job for one in earlier[: count - 1])]


def any_jobs(board: Board, random: Random, count: int) -> list[int]:
    """Any jobs."""
    planned = [one.job for one in _planned(board)]
    return random.sample(planned, min(count, len(planned)))


def around_a_chain(board: Board, random: Random, count: int) -> list[int]:
    """Jobs that have to come one after another, left out or not, and others in the time that they take."""
    chain = _chain(board.bay, random)
    mine = [one for one in _planned(board) if one.job in chain]
    if not mine:
        return around_a_left_out_job(board, random, count)
    first, last = min(one.start for one in mine), max(one.pieces[-1].start for one in mine)
    others = [
        one.job
        for one in _planned(board)
        if one.job not in chain and one.start < last and one.pieces[-1].start > first
    ]
    missing = [number for number in chain if board.placements[number] is None]
    beside = random.sample(others, min(len(others), max(0, count - len(mine))))
    return [*(one.job for one in mine), *beside, *missing]


def _chain(bay: Bay, random: Random) -> list[int]:
    """A job that has to wait for others, with all of those; empty where no job has to."""
    followers = [job.number for job in bay.jobs if job.after]
    chain = [random.choice(followers)] if followers else []
    for number in chain:
        chain.extend(earlier for earlier in bay.jobs[number].after if earlier not in chain)
    return chain


def _middle(placement: Placement) -> float:
    return (placement.start + placement.pieces[-1].start) / 2


RUINS: tuple[Ruin, ...] = (
    around_a_time,
    around_a_job,
    around_a_left_out_job,
    of_one_pool,
    late_ones,
    any_jobs,
)


def ruins_of(bay: Bay) -> tuple[Ruin, ...]:
    """The ways to take jobs off that mean something in a bay."""
    return (*RUINS, around_a_chain) if any(job.after for job in bay.jobs) else RUINS


def with_chains(board: Board, jobs: list[int]) -> list[int]:
    """`jobs` with all planned ones that come after them and all left-out ones that must come before."""
    found = list(dict.fromkeys(jobs))
    for number in found:
        job = board.bay.jobs[number]
        later = [other for other in job.before if board.placements[other] is not None]
        earlier = [other for other in job.after if board.placements[other] is None]
        found.extend(other for other in later + earlier if other not in found)
    return found
