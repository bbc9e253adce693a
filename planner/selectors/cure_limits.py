"""The limits that hold for a cure: of site, heater set and material, the narrower before the wider."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from planner.domain.cure_limits import KINDS, CureLimit, CureLimits, KnownLimit, ReleasePlace
from planner.domain.permissions import Action
from planner.domain.sentences import Sentence, _
from planner.engineering.cure.case import Cooling, Heating, Pad
from planner.models import CureLimitRow, Site, User
from planner.selectors.access import require_on_site


@dataclass(frozen=True, slots=True, kw_only=True)
class CureLimitTable:
    """The site's own limits."""

    rows: tuple[CureLimitRow, ...] = ()

    @property
    def names_sets(self) -> bool:
        """Whether any limit is a heater set's own."""
        return any(row.heater_set_id for row in self.rows)

    def limits_for(self, *, material_id: int | None = None, heater_set_id: int | None = None) -> CureLimits:
        """What holds for a material on a set; None where one is not known yet.

        Raises InvalidValueError where limits contradict each other.
        """
        given: dict[CureLimit, KnownLimit] = {}
        place = ReleasePlace.HOTTEST
        for row in sorted(self.rows, key=_narrowness):
            if row.material_id in (None, material_id) and row.heater_set_id in (None, heater_set_id):
                given[CureLimit(row.limit)] = KnownLimit(value=row.value, source=f"{row.scope}: {row.source}")
                if row.limit == CureLimit.RELEASE:
                    place = ReleasePlace(row.place or ReleasePlace.HOTTEST)
        return CureLimits(given=given, place=place)

    def check(self) -> None:
        """Raise InvalidValueError where any material on any set would have contradicting limits."""
        materials = {None, *(row.material_id for row in self.rows)}
        sets = {None, *(row.heater_set_id for row in self.rows)}
        for material_id, heater_set_id in product(materials, sets):
            self.limits_for(material_id=material_id, heater_set_id=heater_set_id)


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitWords:
    """One limit as it is told: what, how much, who says so."""

    limit: CureLimit
    words: Sentence
    value: float
    unit: str
    source: str


def cure_limit_table_get(*, site: Site) -> CureLimitTable:
    """The site's limits: one query."""
    rows = CureLimitRow.objects.filter(site=site).select_related("heater_set", "material")
    return CureLimitTable(rows=tuple(rows))


def cure_limit_list(*, user: User, site: Site) -> list[CureLimitRow]:
    """The limits that the site gives itself, by kind, the wider before the narrower."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    order = list(CureLimit)
    return sorted(
        cure_limit_table_get(site=site).rows,
        key=lambda row: (order.index(CureLimit(row.limit)), _narrowness(row), row.pk),
    )


def cure_limits_get(*, user: User, site: Site) -> CureLimits:
    """What holds on the site wherever no set or material has a limit of its own."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return cure_limit_table_get(site=site).limits_for()


def limit_words(limits: CureLimits) -> list[LimitWords]:
    """Every limit with who says so, in the order of a cure."""
    return list(_limit_words(limits))


def heating_of(limits: CureLimits) -> Heating:
    """The pads as the limits have them, preheated to the middle of their band."""
    preheat_c = (limits.value(CureLimit.PREHEAT_LOW) + limits.value(CureLimit.PREHEAT_HIGH)) / 2
    inside, outside = (
        Pad(
            preheat_c=preheat_c,
            hold_c=limits.value(hold),
            rise_c_min=limits.value(CureLimit.RISE),
            contact_m2k_w=limits.value(CureLimit.CONTACT),
            capacity_j_k=1000 * limits.value(CureLimit.PAD_HEAT),
            loss_w_k=limits.value(CureLimit.PAD_LOSS),
        )
        for hold in (CureLimit.INSIDE_HOLD, CureLimit.OUTSIDE_HOLD)
    )
    return Heating(inside=inside, outside=outside, start_c=limits.value(CureLimit.START))


def cooling_of(limits: CureLimits) -> Cooling:
    """The cool-down as the limits have it."""
    leaves_w_m2k = limits.value(CureLimit.COOLING)
    return Cooling(
        ambient_c=limits.value(CureLimit.BAY),
        inside_w_m2k=leaves_w_m2k,
        outside_w_m2k=leaves_w_m2k,
        release_c=limits.value(CureLimit.RELEASE),
        place=limits.place,
    )


def _narrowness(row: CureLimitRow) -> int:
    return 2 * (row.material_id is not None) + (row.heater_set_id is not None)


def _limit_words(limits: CureLimits) -> Iterator[LimitWords]:
    for limit, kind in KINDS.items():
        words = (
            _("{limit:phrase}, at {place:phrase}", limit=kind.words, place=limits.place.words)
            if limit is CureLimit.RELEASE
            else kind.words
        )
        yield LimitWords(
            limit=limit,
            words=words,
            value=limits.value(limit),
            unit=kind.unit,
            source=limits.source(limit),
        )
