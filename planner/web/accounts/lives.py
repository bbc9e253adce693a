"""How long repaired tyres run, by zone and size class, by hours or by distance."""

from django.http import HttpRequest, HttpResponse

from planner.domain.permissions import Action
from planner.selectors.accounts.life_groups import LifeGroupRow, life_groups_get
from planner.selectors.accounts.words import LifeMeasure
from planner.web.accounts.life_chart import LifeChart, life_chart
from planner.web.here import Here, show, site_page


@site_page(Action.MONEY_READ)
def lives(request: HttpRequest, here: Here) -> HttpResponse:
    """A table of every zone and class, and a drawing of each set of records that is used."""
    by_distance = request.GET.get("by") == LifeMeasure.DISTANCE
    measure = LifeMeasure.DISTANCE if by_distance else LifeMeasure.HOURS
    rows = life_groups_get(user=here.user, site=here.site, measure=measure)
    return show(
        request, here, "accounts/lives.html", "accounts", rows=rows, drawings=_drawings(rows),
        measure=measure.value, by_distance=by_distance,
    )  # fmt: skip


def _drawings(rows: list[LifeGroupRow]) -> list[tuple[str, LifeGroupRow, LifeChart]]:
    """Each set of records once, with its name."""
    first = {row.drawn_as: row for row in reversed(rows) if not row.life.assumed}
    drawn = []
    for (_, zone, size_class), row in reversed(first.items()):
        chart = life_chart(row.life)
        if chart is not None:
            drawn.append((", ".join(word for word in (zone, size_class) if word) or "all", row, chart))
    return drawn
