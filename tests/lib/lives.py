"""Groups of repaired-tyre lives drawn from a known law."""

import numpy as np

from planner.engineering.life_records import LifeBasis, LifeGroup, LifeMeasure, LifeRecord


def weibull_group(seed: int, count: int, *, shape: float = 2.0, scale: float = 3000.0) -> LifeGroup:
    """Lives of a known shape [1] and scale [h], some of them censored."""
    random = np.random.default_rng(seed)
    return stopped_group(scale * random.weibull(shape, count), random.uniform(1000, 9000, count))


def two_kinds_group(seed: int, count: int) -> LifeGroup:
    """A mixture that no Weibull life fits: half fail at once, half run long and alike."""
    random = np.random.default_rng(seed)
    early, late = random.normal(200, 10, count // 2), random.normal(6000, 60, count - count // 2)
    return stopped_group(np.concatenate([early, late]), np.full(count, 9000.0))


def stopped_group(lengths: np.ndarray, stops: np.ndarray) -> LifeGroup:
    """Lives seen only until they stop being watched."""
    return LifeGroup(
        basis=LifeBasis.SITE,
        measure=LifeMeasure.HOURS,
        lengths=np.minimum(lengths, stops),
        failed=lengths <= stops,
    )


def records(zone: str, size_class: str, failures: int, *, start: float = 1000.0) -> list[LifeRecord]:
    """So many failures at rising hours, and as many tyres that still run."""
    made = []
    for place in range(failures):
        hours = start + 100 * place
        made.append(LifeRecord(zone=zone, size_class=size_class, failed=True, hours=hours, km=hours * 10))
        made.append(LifeRecord(zone=zone, size_class=size_class, failed=False, hours=hours))
    return made
