"""One row of each kind that an administrator keeps: read, changed to what it is, and asked to go."""

from collections.abc import Callable
from datetime import date

import api.base.paths  # noqa: F401 (the converter of row numbers)
from api.nouns.urls import KINDS
from planner.models import User
from tests.lib.api import Caller, caller, told


def adele() -> Caller:
    """The administrator of the demo site, just signed in: a changed role ends a session."""
    return caller(User.objects.get(username="adele"))


def test_a_row_of_each_kind_is_changed_as_it_was_read(demo_loaded: Callable[[date], None]) -> None:
    demo_loaded(date(2026, 11, 25))
    empty, wrong = set(), {}
    for kind in KINDS:
        rows = told(adele().get(f"sites/halfmoon/{kind}/?page_size=1"))["results"]
        if not rows:
            empty.add(kind)
            continue
        path = f"sites/halfmoon/{kind}/{rows[0]['id']}/"
        changed = adele().patch(path, {}, if_match=adele().get(path)["ETag"])
        if changed.status_code != 200:
            wrong[kind] = changed.status_code, told(changed)["detail"]
        elif adele().send("DELETE", path, None, if_match=changed["ETag"]).status_code not in (204, 409):
            wrong[kind] = "it can't be asked to go"
    assert wrong == {}
    assert empty <= {"roster-exceptions", "isolations", "closures"}, empty
