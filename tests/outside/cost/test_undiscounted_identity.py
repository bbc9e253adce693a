"""Without interest a year costs its hours times the cost of an hour: arithmetic, no source needed."""

from dataclasses import replace
from decimal import Decimal
from random import Random

import pytest

from planner.costing.comparison import cost_a_year, cost_an_hour
from planner.costing.options import OptionKind
from tests.lib.costing import aud, comparison, option


@pytest.mark.parametrize("seed", range(25))
def test_undiscounted_annual_cost_is_hours_times_cost_per_hour(seed: int) -> None:
    random = Random(seed)
    repair = option(
        OptionKind.REPAIR,
        str(random.randint(1, 20000)),
        str(random.randint(100, 9000)),
        failure=Decimal(random.randint(0, 60)) / 100,
        if_fails=aud(random.randint(0, 5000)),
        salvage=aud(random.randint(0, 900)),
        upkeep=aud(random.randint(0, 2000)),
        wait_hours=Decimal(random.randint(0, 200)),
    )
    terms = comparison(repair, option(OptionKind.NEW, "1", "1")).terms
    terms = replace(terms, hours_a_year=Decimal(random.randint(500, 8000)))
    yearly = cost_an_hour(repair, terms).amount * terms.hours_a_year
    assert cost_a_year(repair, terms).amount == pytest.approx(yearly, rel=Decimal("1e-20"))
