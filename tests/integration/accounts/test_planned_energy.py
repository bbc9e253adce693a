"""The energy line of an estimate: by the site's meter, else by the model of each cure."""

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.costing.assumptions import Assumed, Assumption
from planner.domain.errors import InvalidValueError
from planner.models import WorkOrder
from planner.selectors.accounts.bay import costed_bay_get
from planner.selectors.accounts.planned_energy import PlannedEnergy, planned_energy_get
from planner.selectors.cure_figures import CureFigures, cure_figures_by_damage
from tests.lib.cure_stock import charted
from tests.lib.mine import Mine, mine_equipped

pytestmark = pytest.mark.django_db
NOTHING = Assumed(values={})
METERED = Assumed(values={Assumption.SET_KWH_AN_HOUR: Decimal("6.5")})


@pytest.fixture
def mine() -> Mine:
    mine = mine_equipped()
    charted(mine)
    return mine


def figures(mine: Mine, order: WorkOrder) -> CureFigures:
    (found,) = cure_figures_by_damage(site=mine.site, damages=list(order.damages.all())).values()
    return found


def test_the_bay_of_one_order_works_out_its_cures_alone_and_alike(mine: Mine) -> None:
    asked, other = mine.order("A1"), mine.order("A2")
    whole, own = costed_bay_get(site=mine.site), costed_bay_get(site=mine.site, order=asked)
    (damage,), (of_other,) = asked.damages.all(), other.damages.all()
    assert set(whole.minutes) == {damage.pk, of_other.pk}
    assert own.minutes == {damage.pk: whole.minutes[damage.pk]}
    assert own.stages_of(asked, damage) == whole.stages_of(asked, damage)


def energy(mine: Mine, order: WorkOrder, assumed: Assumed, *, known: bool = True) -> PlannedEnergy:
    bay = costed_bay_get(site=mine.site)
    bay = bay if known else replace(bay, minutes={})
    planned = [(damage, bay.stages_of(order, damage)) for damage in order.damages.all()]
    return planned_energy_get(planned=planned, assumed=assumed, bay=bay)


def test_the_pads_energy_by_hand(mine: Mine) -> None:
    """60 °C, 2 °C/min: 120 after 30 min, then 90 by the chart, off after 120; 140 after 40; bay 25 °C."""
    found = figures(mine, mine.order("A1"))
    assert found.pads_kwh == pytest.approx(2 * 8000 * 115 / 3.6e6)
    lost_k_min = 120 * 115 - 40 * (140 - 60) / 2  # below hold while the pads heat up
    assert found.losses_kwh == pytest.approx(2 * 2.5 * 60 * lost_k_min / 3.6e6)
    # At most the fill of 20 mm under 0.25 m2 at 140 °C: 0.005 m3 × 1100 × 1800 × 120 K.
    assert 0.8 < found.rubber_kwh / (0.005 * 1100 * 1800 * 120 / 3.6e6) < 1


def test_what_a_set_covers_takes_up_and_loses_is_the_sites_to_give(mine: Mine) -> None:
    order = mine.order("A1")
    before = figures(mine, order)
    for limit, value in (("pad_area_m2", 0.5), ("pad_heat_kj_k", 24), ("pad_loss_w_k", 5)):
        mine.add("curelimitrow", limit=limit, value=value, source="set maker's sheet")
    after = figures(mine, order)
    assert after.rubber_kwh == pytest.approx(2 * before.rubber_kwh)
    assert after.pads_kwh == pytest.approx(3 * before.pads_kwh)
    assert after.losses_kwh == pytest.approx(2 * before.losses_kwh)
    assert after.model_min == before.model_min


def test_a_meters_figure_wins_and_the_model_stands_beside_it(mine: Mine) -> None:
    found = energy(mine, mine.order("A1"), METERED)
    assert found.kwh == Decimal("6.5") * 120 / 60
    assert [given.label for given in found.givens] == ["energy of an energised set", "energised", "beside it"]


def test_without_a_meter_the_model_is_priced_part_by_part(mine: Mine) -> None:
    order = mine.order("A1")
    found = energy(mine, order, NOTHING)
    assert found.kwh == sum(given.value for given in found.givens)
    assert float(found.kwh) == pytest.approx(figures(mine, order).energy_kwh, abs=0.02)
    assert {given.source for given in found.givens} == {"model of the cure"}


def test_with_neither_the_accountant_is_asked(mine: Mine) -> None:
    with pytest.raises(InvalidValueError, match="no accepted assumption for energy of an energised set"):
        energy(mine, mine.order("A1"), NOTHING, known=False)
