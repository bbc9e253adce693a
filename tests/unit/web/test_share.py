"""A share as people read it."""

import pytest

from planner.templatetags.tyrewright import share


@pytest.mark.parametrize(
    ("value", "words"),
    [(0.0, "0 %"), (0.001, "under 1 %"), (0.716, "72 %"), (0.999, "over 99 %"), (1.0, "100 %")],
)
def test_a_share_never_claims_to_be_certain(value: float, words: str) -> None:
    assert share(value) == words
