"""At least 20,000 calls from the schema: `python -m pytest -p no:xdist tests/load/api_calls.py -s`.

`TYREWRIGHT_FUZZ_EXAMPLES` (per operation and role, 30 unless given) and `TYREWRIGHT_FUZZ_NUMBER` (the seed).
"""

import os

import pytest
from django.core.cache import cache

from api.base.throttles import AddressThrottle, UserThrottle
from planner.domain.permissions import Role
from tests.lib.api import token_of
from tests.lib.fuzzing import fuzz
from tests.lib.mine import mine_equipped


@pytest.mark.django_db
def test_many_calls_from_the_schema_break_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    for throttle in (AddressThrottle, UserThrottle):
        monkeypatch.setattr(throttle, "get_rate", lambda _: None)
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    cache.clear()
    mine = mine_equipped()
    mine.order("T-1")
    secrets = tuple(token_of(mine, role) for role in Role)
    examples = int(os.environ.get("TYREWRIGHT_FUZZ_EXAMPLES", "30"))
    number = int(os.environ.get("TYREWRIGHT_FUZZ_NUMBER", "1"))
    statuses = fuzz(secrets, examples=examples, number=number)
    print(f"{sum(statuses.values())} calls: {dict(sorted(statuses.items()))}")
