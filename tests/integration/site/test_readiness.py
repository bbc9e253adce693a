"""What a site still lacks before a first plan: told from nothing to ready."""

import pytest

from planner.models import (
    HeaterSetPart,
    Position,
    RosterPattern,
    RouteStage,
    Shift,
    SiteMembership,
    Technician,
)
from planner.selectors.site_readiness import site_lack_list
from tests.lib.mine import DAY, Mine, mine_equipped, mine_open

pytestmark = pytest.mark.django_db


def lacks(mine: Mine) -> dict[str, str]:
    """The words by noun; where a noun is lacked twice, the last."""
    found = site_lack_list(user=mine.users["administrator"], site=mine.site, today=DAY)
    return {each.noun: each.words for each in found}


def test_a_bare_site_lacks_everything_in_the_order_of_the_workbook() -> None:
    mine = mine_open()
    assert list(lacks(mine)) == ["technician", "position", "heaterset", "route", "rosterpattern"]
    SiteMembership.objects.filter(site=mine.site, role="supervisor").delete()
    assert "supervisor" in lacks(mine)["sitemembership"]


def test_a_site_that_can_plan_lacks_nothing() -> None:
    assert lacks(mine_equipped()) == {}


def test_each_gap_is_told_by_its_name() -> None:
    mine = mine_equipped()
    HeaterSetPart.objects.filter(kind="frame").delete()
    mine.add("heaterset", code="H2", name="H2", channels=2, power_kw=6)
    assert lacks(mine) == {
        "heatersetfit": "nothing says what H2 fits",
        "heatersetpart": "H2 lacks parts: both pads, both bags and a frame make a set",
    }
    Position.objects.filter(code="C1").update(active=False)
    assert "kind cure" in lacks(mine)["position"]
    for person in Technician.objects.all():
        person.skills.remove(*person.skills.filter(code="cure"))
    assert "skill cure, which nobody has" in lacks(mine)["technician"]
    Shift.objects.all().delete()
    RosterPattern.objects.all().delete()
    assert "nobody is on shift" in lacks(mine)["rosterpattern"]
    RouteStage.objects.all().delete()
    assert lacks(mine)["routestage"] == "route side has no stages"
