"""What is on file in each of the books, with who entered it and why."""

from collections.abc import Mapping

from django.db import models
from django.db.models import Q, QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import CostAsset, CostOutcome, CostPrice, CostRate, CostStock, Site, User
from planner.models.entered import Entered
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import site_day

BOOKS: Mapping[str, type[models.Model]] = {
    "prices": CostPrice,
    "rates": CostRate,
    "heater_sets": CostAsset,
    "stock": CostStock,
    "outcomes": CostOutcome,
}
# Where words are looked for, and what makes a dated row follow another.
_WORDED: Mapping[str, tuple[str, ...]] = {
    "prices": ("kind", "item", "source"),
    "rates": ("kind", "name", "source"),
    "heater_sets": ("item", "source"),
    "stock": ("size",),
    "outcomes": ("serial", "zone", "size_class"),
}
_FOLLOWED: Mapping[str, tuple[str, str]] = {"prices": ("kind", "item"), "rates": ("kind", "name")}


def entry_list(*, user: User, site: Site, book: str, search: str = "") -> QuerySet[models.Model]:
    """The rows of one of the books that hold every word; NotFoundError where there is no such book."""
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    if book not in BOOKS:
        raise NotFoundError(_("there is no book of {book}; there is {books}", book=book, books=tuple(BOOKS)))
    model = BOOKS[book]
    rows = model._default_manager.filter(site=site).select_related("site")
    if issubclass(model, Entered):
        rows = rows.select_related("author")
    for word in search.split():
        rows = rows.filter(Q(*((f"{field}__icontains", word) for field in _WORDED[book]), _connector=Q.OR))
    return rows


def holding_get(*, user: User, site: Site, book: str) -> frozenset[int]:
    """The keys of those dated rows that hold today; empty for a book whose rows have no successors."""
    rows = entry_list(user=user, site=site, book=book)
    if book not in _FOLLOWED:
        return frozenset()
    held = rows.filter(effective_from__lte=site_day(site)).order_by("effective_from")
    one, two = _FOLLOWED[book]
    return frozenset({(kind, name): key for key, kind, name in held.values_list("pk", one, two)}.values())
