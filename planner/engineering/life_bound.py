"""What bounds the life of a repaired tyre: the tread that is left and the age of its casing."""

from dataclasses import dataclass

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import Sentence, _


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeBounds:
    """Hours until the tread is at its least [h] and until the casing is at its greatest age [h]."""

    tread_hours: float
    age_hours: float

    @property
    def hours(self) -> float:
        """The nearer of the two [h]."""
        return min(self.tread_hours, self.age_hours)

    @property
    def cause(self) -> Sentence:
        """Which of the two is the nearer."""
        return _("tread") if self.tread_hours <= self.age_hours else _("casing age")


def tread_hours(tread_mm: float, least_mm: float, wear_mm_per_1000_h: float) -> float:
    """Hours until the tread is down to its least, at even wear [h]; tread in mm, wear in mm per 1000 h."""
    if not wear_mm_per_1000_h > 0:
        raise InvalidValueError(_("tread wear must be more than 0 mm per 1000 h"))
    return max(tread_mm - least_mm, 0.0) / wear_mm_per_1000_h * 1000


def age_hours(age_years: float, greatest_years: float, hours_a_year: float) -> float:
    """Running hours until the casing reaches its greatest age [h]; ages in years."""
    if not hours_a_year > 0:
        raise InvalidValueError(_("running hours a year must be more than 0"))
    return max(greatest_years - age_years, 0.0) * hours_a_year
