"""Limits of cures by site, set and material: what holds, who says so, and where they are used."""

from datetime import timedelta

import pytest
from django.utils import timezone

from planner.domain.cure_limits import COMMON_PRACTICE, CureLimit, CureLimits, KnownLimit, ReleasePlace
from planner.domain.errors import InvalidValueError, NotAllowedError
from planner.models import CureLimitRow, HeaterSet, Material, StageRun
from planner.selectors.cure_figures import cure_figures_by_damage
from planner.selectors.cure_limits import CureLimitTable, cure_limit_list, cure_limit_table_get, limit_words
from planner.selectors.cure_plans import cure_plan_get
from planner.selectors.order_cures import order_cure_list
from planner.services.nouns import noun_add, noun_remove
from tests.lib.cure_stock import charted
from tests.lib.mine import Mine, mine_equipped

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine() -> Mine:
    """Two sets that fit sidewalls."""
    mine = mine_equipped()
    charted(mine)
    mine.heater_set("other")
    return mine


def limited(mine: Mine, limit: CureLimit, value: float, **more: object) -> CureLimitRow:
    named = {"limit": limit.value, "value": value, "source": "a sheet", **more}
    row = noun_add(user=mine.users["administrator"], site=mine.site, noun="curelimitrow", values=named)
    assert isinstance(row, CureLimitRow)
    return row


def table(mine: Mine) -> CureLimitTable:
    return cure_limit_table_get(site=mine.site)


def the_set(mine: Mine) -> HeaterSet:
    return HeaterSet.objects.filter(site=mine.site)[0]


def test_what_nobody_gave_is_common_practice(mine: Mine) -> None:
    """Common practice: preheat 50–70 °C, timer at 120, hold 140, about 30 psi, release below 100 °C."""
    told = {each.limit: (each.value, each.source) for each in limit_words(table(mine).limits_for())}
    assert told[CureLimit.PREHEAT_LOW] == (50, COMMON_PRACTICE)
    assert told[CureLimit.PREHEAT_HIGH] == (70, COMMON_PRACTICE)
    assert told[CureLimit.START] == (120, COMMON_PRACTICE)
    assert told[CureLimit.INSIDE_HOLD] == told[CureLimit.OUTSIDE_HOLD] == (140, COMMON_PRACTICE)
    assert told[CureLimit.PRESSURE] == (206.84, COMMON_PRACTICE)
    assert told[CureLimit.RELEASE] == (100, COMMON_PRACTICE)


def test_the_narrower_limit_holds_and_says_whose_it_is(mine: Mine) -> None:
    heater, material = the_set(mine), Material.objects.get(code="fill")
    limited(mine, CureLimit.PRESSURE, 210, source="site rule 3")
    limited(mine, CureLimit.PRESSURE, 200, heater_set=heater, source="plate of the set")
    limited(mine, CureLimit.PRESSURE, 190, material=material, source="maker, sheet 7")
    limited(mine, CureLimit.PRESSURE, 180, material=material, heater_set=heater, source="maker's letter")
    found = table(mine)
    narrow = [
        found.limits_for(material_id=one, heater_set_id=two)
        for one, two in ((None, None), (None, heater.pk), (material.pk, None), (material.pk, heater.pk))
    ]
    assert [each.value(CureLimit.PRESSURE) for each in narrow] == [210, 200, 190, 180]
    assert narrow[0].source(CureLimit.PRESSURE) == "the whole site: site rule 3"
    assert narrow[3].source(CureLimit.PRESSURE) == f"{material} on {heater}: maker's letter"


def test_the_log_is_judged_by_the_limits_of_its_set(mine: Mine) -> None:
    damage = mine.order("A1").damages.get()
    limited(mine, CureLimit.RELEASE, 90, place="middle")
    limited(mine, CureLimit.PREHEAT_HIGH, 65, heater_set=the_set(mine))
    by_hand = cure_plan_get(damage=damage, by_hand=True)
    on_set = cure_plan_get(damage=damage, heater_set=the_set(mine))
    assert (by_hand.plan.release_c, by_hand.plan.release_place) == (90, ReleasePlace.MIDDLE)
    assert (by_hand.plan.preheat_high_c, on_set.plan.preheat_high_c) == (70, 65)
    assert (by_hand.plan.gap_min, on_set.plan.gap_min) == (15, 5)
    assert on_set.plan.case is not None
    assert on_set.plan.case.cooling.release_c == 90


def test_a_plan_is_made_for_the_slowest_set_until_the_set_is_known(mine: Mine) -> None:
    """At 1 °C/min from 60 to 120 °C 60 min, at 2 °C/min 30."""
    damage = mine.order("A1").damages.get()
    slow = the_set(mine)
    limited(mine, CureLimit.RISE, 1.0, heater_set=slow)
    anywhere = cure_figures_by_damage(site=mine.site, damages=[damage])[damage.pk]
    assert anywhere.heat_up_min == 60
    other = HeaterSet.objects.filter(site=mine.site).exclude(pk=slow.pk)[0]
    known = cure_figures_by_damage(site=mine.site, damages=[damage], sets={damage.pk: other.pk})
    assert known[damage.pk].heat_up_min == 30


def test_what_the_model_takes_for_contact_cooling_and_margin_is_the_sites(mine: Mine) -> None:
    damage = mine.order("A1").damages.get()
    before = cure_figures_by_damage(site=mine.site, damages=[damage])[damage.pk]
    limited(mine, CureLimit.CONTACT, 0.01)
    limited(mine, CureLimit.COOLING, 5)
    limited(mine, CureLimit.MARGIN, 1.3)
    after = cure_figures_by_damage(site=mine.site, damages=[damage])[damage.pk]
    assert after.model_min > before.model_min  # more to cure, through worse contact
    assert after.cool_down_min > before.cool_down_min  # heat leaves half as fast
    assert after.timed_min == before.timed_min  # the chart stands


def test_once_a_set_is_on_the_tyre_its_own_limits_plan(mine: Mine) -> None:
    order = mine.order("A1")
    damage, slow = order.damages.get(), the_set(mine)
    limited(mine, CureLimit.RISE, 1.0, heater_set=slow)
    other = HeaterSet.objects.filter(site=mine.site).exclude(pk=slow.pk)[0]
    StageRun.objects.create(
        site=mine.site, work_order=order, damage=damage, sequence=1, name="Rig", heater_set=other,
        started_at=timezone.now() - timedelta(hours=1),
    )  # fmt: skip
    (cure,) = order_cure_list(order=order)
    assert cure.figures is not None
    assert cure.figures.heat_up_min == 30


@pytest.mark.parametrize(
    ("limit", "value", "more", "message"),
    [
        (CureLimit.INSIDE_HOLD, 400, {}, "the inside pad settles at: from 60 to 180 °C, not 400"),
        (CureLimit.START, 150, {}, "contradict each other"),
        (CureLimit.START, 120, {"place": "middle"}, "only a release temperature has a place"),
        (CureLimit.RELEASE, 28, {}, "from 30 to 150"),
        (CureLimit.START, 120, {"source": ""}, "source"),
    ],
)
def test_what_no_cure_can_have_is_refused(
    mine: Mine, limit: CureLimit, value: float, more: dict[str, object], message: str
) -> None:
    with pytest.raises(InvalidValueError, match=message):
        limited(mine, limit, value, **more)
    assert not CureLimitRow.objects.exists()


def test_limits_that_contradict_each_other_only_together_are_refused(mine: Mine) -> None:
    """A set that holds 118 °C cannot start a clock at 120."""
    with pytest.raises(InvalidValueError, match=r"contradict each other: .*120 °C .*118 °C"):
        limited(mine, CureLimit.OUTSIDE_HOLD, 118, heater_set=the_set(mine))


def test_only_an_administrator_changes_limits(mine: Mine) -> None:
    row = limited(mine, CureLimit.RELEASE, 95)
    with pytest.raises(NotAllowedError):
        noun_remove(user=mine.supervisor, site=mine.site, noun="curelimitrow", row_id=row.pk, why="no")
    assert cure_limit_list(user=mine.supervisor, site=mine.site) == [row]


def test_a_contradiction_of_values_is_told_with_both_sources() -> None:
    with pytest.raises(InvalidValueError, match=r"common practice.*but"):
        CureLimits(given={CureLimit.START: KnownLimit(value=60, source="here")})
