"""A part of a heater set: taken out where it failed, put back, scrapped or replaced."""

from dataclasses import dataclass

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from planner.domain.errors import NotFoundError, UserError
from planner.domain.permissions import Action
from planner.domain.states import PART_STATES
from planner.selectors.nouns import HeaterSetPart
from planner.selectors.resources import heater_set_part_get
from planner.selectors.telling import in_words
from planner.services.heater_parts import part_move
from planner.web.here import Here, show, site_page, tell

MOVES: dict[str, str | Promise] = {
    "take_out": gettext_lazy("Take it out"),
    "put_back": gettext_lazy("Put it back"),
    "scrap": gettext_lazy("Scrap it"),
    "replace": gettext_lazy("It is replaced"),
}
_INSPECTED = ("put_back", "replace")


class PartForm(forms.Form):
    """Why a part is moved, and when it is inspected next."""

    why = forms.CharField(
        label=gettext_lazy("Why"), max_length=200, help_text=gettext_lazy("What failed, or what was mended.")
    )
    inspection_due_on = forms.DateField(
        label=gettext_lazy("Next inspection"),
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PartMove:
    """A button: what may be done with the part now."""

    name: str
    words: str | Promise


@site_page(Action.PART_STATE_CHANGE)
def part(request: HttpRequest, here: Here, row: int) -> HttpResponse:
    """What may be done with a part; by POST it is done, and the supervisors hear where a plan breaks."""
    found = heater_set_part_get(user=here.user, site=here.site, part_id=row)
    moves = [PartMove(name=name, words=MOVES[name]) for name in PART_STATES.moves_from(found.state)]
    form = PartForm(request.POST or None)
    if not any(move.name in _INSPECTED for move in moves):
        del form.fields["inspection_due_on"]
    if request.method == "POST" and form.is_valid() and _moved(request, here, found, form):
        return redirect("resources", here.site.code)
    return show(
        request, here, "maintenance/part.html", "resources", part=found, moves=moves, form=form,
        is_fit=found.state == PART_STATES.first,
    )  # fmt: skip


def _moved(request: HttpRequest, here: Here, found: HeaterSetPart, form: PartForm) -> bool:
    move = request.POST.get("move", "")
    if move not in MOVES:
        raise NotFoundError(_("Choose what was done with it."))
    try:
        part_move(user=here.user, part=found, move=move, **form.cleaned_data)
    except UserError as fault:
        form.add_error(None, in_words(fault))
        return False
    place = {"set": found.heater_set, "part": found.get_kind_display(), "state": found.get_state_display()}
    tell(request, _("%(set)s: its %(part)s is %(state)s now.") % place)
    return True
