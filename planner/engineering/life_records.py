"""Records of how long repaired tyres ran, and which of them speak for a tyre at hand."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray
from scipy.stats import CensoredData

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _

Floats = NDArray[np.float64]
LEAST_FAILURES = 8


class LifeMeasure(StrEnum):
    """What a life is counted in."""

    HOURS = "h"
    DISTANCE = "km"


class LifeBasis(StrEnum):
    """Whose records a life rests on, from the nearest to none at all."""

    ZONE_AND_SIZE = "records of the same zone and size class"
    ZONE = "records of the same zone, all size classes together"
    SIZE = "records of the same size class, all zones together"
    SITE = "all the site's records together"
    ASSUMPTION = "the site's assumption, for want of records"


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeRecord:
    """One repaired tyre: how far it ran and whether the repair ended it.

    A tyre that still runs, or was taken off for something else, is censored: it ran at least so long.
    """

    zone: str
    size_class: str
    failed: bool
    hours: float
    km: float | None = None

    def __post_init__(self) -> None:
        if not self.hours > 0 or (self.km is not None and not self.km > 0):
            raise InvalidValueError(_("a repaired tyre's hours and distance must be more than 0"))

    def length(self, measure: LifeMeasure) -> float | None:
        """How long it ran in that measure; None where its distance was not recorded [h or km]."""
        return self.hours if measure is LifeMeasure.HOURS else self.km


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeGroup:
    """The lengths of some records in one measure, and which of them ended in failure."""

    basis: LifeBasis
    measure: LifeMeasure
    lengths: Floats
    failed: NDArray[np.bool_]

    @property
    def failures(self) -> int:
        """How many failed."""
        return int(self.failed.sum())

    def censored(self) -> CensoredData:
        """The records as scipy reads them."""
        return CensoredData.right_censored(self.lengths, ~self.failed)


def life_group(
    records: Sequence[LifeRecord],
    *,
    zone: str,
    size_class: str,
    measure: LifeMeasure = LifeMeasure.HOURS,
    least_failures: int = LEAST_FAILURES,
) -> LifeGroup | None:
    """The nearest group with enough failures to fit a life; None where even all records have too few."""
    groups = (gathered(basis, part, measure) for basis, part in _nearest_first(records, zone, size_class))
    return next((group for group in groups if group.failures >= least_failures), None)


def gathered(basis: LifeBasis, records: Sequence[LifeRecord], measure: LifeMeasure) -> LifeGroup:
    """The records that have a length in the measure."""
    pairs = [(record.length(measure), record.failed) for record in records]
    known = [(length, failed) for length, failed in pairs if length is not None]
    lengths = np.array([length for length, _ in known], dtype=np.float64)
    failed = np.array([failed for _, failed in known], dtype=np.bool_)
    return LifeGroup(basis=basis, measure=measure, lengths=lengths, failed=failed)


def _nearest_first(
    records: Sequence[LifeRecord], zone: str, size_class: str
) -> Iterator[tuple[LifeBasis, list[LifeRecord]]]:
    in_zone = [record for record in records if record.zone == zone]
    yield LifeBasis.ZONE_AND_SIZE, [record for record in in_zone if record.size_class == size_class]
    yield LifeBasis.ZONE, in_zone
    yield LifeBasis.SIZE, [record for record in records if record.size_class == size_class]
    yield LifeBasis.SITE, list(records)
