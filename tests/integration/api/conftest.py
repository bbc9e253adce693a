"""An equipped mine, and callers of its API."""

import pytest
from django.core.cache import cache

from tests.lib.api import Caller, caller
from tests.lib.mine import Mine, mine_equipped


@pytest.fixture(autouse=True)
def _no_counts() -> None:
    """Throttles count in the cache: each test begins with none."""
    cache.clear()


@pytest.fixture
def mine(db: None) -> Mine:
    """The site `ridge`."""
    return mine_equipped()


@pytest.fixture
def supervisor(mine: Mine) -> Caller:
    """The mine's supervisor, signed in."""
    return caller(mine.supervisor)


@pytest.fixture
def administrator(mine: Mine) -> Caller:
    """The mine's administrator, signed in."""
    return caller(mine.users["administrator"])
