"""Photos of injuries: taken in, drawn anew, and given only to readers of their site."""

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.selectors.cure_logs import damage_of_order_get
from planner.selectors.repair_records import photo_get
from planner.services.injury_photos import injury_photo_add
from planner.web.files.answers import file_answer
from planner.web.here import Here, site_page, tell


class PhotoForm(forms.Form):
    """A photo and what it shows."""

    photo = forms.FileField()
    words = forms.CharField(max_length=120)


@require_POST
@site_page(Action.DAMAGE_RECORD)
def add(request: HttpRequest, here: Here, number: int, injury: int) -> HttpResponse:
    """Keep a photo; place and camera are left out."""
    damage = damage_of_order_get(user=here.user, site=here.site, number=number, damage_id=injury)
    form = PhotoForm(request.POST, request.FILES)
    if not form.is_valid():
        raise InvalidValueError(_("Choose a photo and say what it shows."))
    told = form.cleaned_data
    injury_photo_add(user=here.user, damage=damage, raw=told["photo"].read(), words=told["words"])
    tell(request, _("The photo is on record. Where it was taken was left out."))
    return redirect("repair_record", here.site.code, number)


@site_page(Action.SITE_READ)
def photo(request: HttpRequest, here: Here, photo_id: int) -> HttpResponse:
    """The picture as it was drawn anew: as an attachment, of a type that no browser may doubt."""
    found = photo_get(user=here.user, site=here.site, photo_id=photo_id)
    answer = file_answer(bytes(found.jpeg), f"photo-{found.pk}.jpg")
    answer["Content-Security-Policy"] = "default-src 'none'; sandbox"
    answer["Cache-Control"] = "private, max-age=3600"
    return answer
