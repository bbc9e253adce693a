"""Photos of injuries: listed, added, read."""

from typing import Any

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.files import FileField, file_response
from api.base.views import SiteView, found
from api.tyres.damage import damages_of
from planner.domain.permissions import Action
from planner.selectors.repair_records import photo_get, photo_list
from planner.services.injury_photos import injury_photo_add


class PhotoShape(serializers.Serializer[Any]):
    """A photo without its picture; `words` say what it shows."""

    id = serializers.IntegerField()
    words = serializers.CharField()
    sha256 = serializers.CharField(help_text="of the JPEG at `jpeg/`")
    width_px = serializers.IntegerField()
    height_px = serializers.IntegerField()
    added_at = serializers.DateTimeField()
    added_by = serializers.CharField(source="added_by.username")


class PhotoSend(serializers.Serializer[Any]):
    """A photo as JPEG, PNG or WebP; place and camera are left out of what is kept."""

    words = serializers.CharField(max_length=120)
    content = FileField()


class DamagePhotos(SiteView):
    """The photos of an injury."""

    actions = {"GET": Action.SITE_READ, "POST": Action.DAMAGE_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="photo_list", responses=PhotoShape(many=True))
    def get(self, request: Request, site: str, tyre: int, damage: int) -> Response:
        """The photos, first to last."""
        injury = found(damages_of(self, tyre), pk=damage)
        return self.page(photo_list(user=self.user, damage=injury), PhotoShape)

    @extend_schema(operation_id="photo_add", request=PhotoSend, responses={201: PhotoShape})
    def post(self, request: Request, site: str, tyre: int, damage: int) -> Response:
        """Keep a photo of the injury, drawn anew."""
        return self.once(lambda: self._added(tyre, damage))

    def _added(self, tyre: int, damage: int) -> Response:
        injury = found(damages_of(self, tyre), pk=damage)
        values = self.sent(PhotoSend)
        row = injury_photo_add(user=self.user, damage=injury, raw=values["content"], words=values["words"])
        return self.one(row, PhotoShape, status=201)


class OnePhoto(SiteView):
    """One photo."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="photo_get", responses=PhotoShape)
    def get(self, request: Request, site: str, photo: int) -> Response:
        """What is told of it."""
        return self.one(photo_get(user=self.user, site=self.site, photo_id=photo), PhotoShape)


class PhotoPicture(SiteView):
    """One photo's picture."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="photo_jpeg", responses={(200, "image/jpeg"): OpenApiTypes.BINARY})
    def get(self, request: Request, site: str, photo: int) -> HttpResponse:
        """The picture as it was drawn anew."""
        row = photo_get(user=self.user, site=self.site, photo_id=photo)
        return file_response(bytes(row.jpeg), name=f"photo-{row.pk}.jpg", kind="image/jpeg")
