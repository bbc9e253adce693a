"""Photos of injuries: decoded, turned upright and drawn anew; nothing else of the file is kept."""

import hashlib
import io
import warnings

from django.utils import timezone
from PIL import Image, ImageOps, UnidentifiedImageError

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Damage, InjuryPhoto, User
from planner.selectors.access import require_on_site
from planner.services.rows import row_add

LARGEST_BYTES = 12 * 1024 * 1024
MOST_PIXELS = 60_000_000
"""A picture that unpacks to more is refused before it is decoded."""

LONGEST_SIDE_PX = 1600
FORMATS = ("JPEG", "PNG", "WEBP")
"""What is read, by content: the file's name and its told type count for nothing."""


def injury_photo_add(*, user: User, damage: Damage, raw: bytes, words: str) -> InjuryPhoto:
    """Keep a photo of an injury, without where and with what it was taken.

    Raises InvalidValueError where it is no picture, too large or says nothing; ConflictError where it is
    there already.
    """
    require_on_site(user=user, site=damage.site, action=Action.DAMAGE_RECORD)
    if not words.strip():
        raise InvalidValueError(_("say what the photo shows: it is read aloud to those who cannot see it"))
    jpeg, width, height = photo_redrawn(raw)
    digest = hashlib.sha256(jpeg).hexdigest()
    if InjuryPhoto.objects.filter(damage=damage, sha256=digest).exists():
        raise ConflictError(_("this photo of the injury is on record already"))
    photo = InjuryPhoto(
        site=damage.site,
        damage=damage,
        words=words.strip(),
        jpeg=jpeg,
        sha256=digest,
        width_px=width,
        height_px=height,
        added_at=timezone.now(),
        added_by=user,
    )
    row_add(user=user, site=damage.site, row=photo, action="injury_photo_add")
    return photo


def photo_redrawn(raw: bytes) -> tuple[bytes, int, int]:
    """A fresh JPEG of the picture alone, upright, at most 1600 px long, with its width and height [px].

    Raises InvalidValueError where it is too large or none of JPEG, PNG and WebP.
    """
    if len(raw) > LARGEST_BYTES:
        raise InvalidValueError(
            _(
                "the photo is larger than {largest_bytes} MB: take a smaller one",
                largest_bytes=LARGEST_BYTES // 2**20,
            )
        )
    try:
        with warnings.catch_warnings(), Image.open(io.BytesIO(raw), formats=FORMATS) as opened:
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            _refuse_too_many_pixels(opened)
            upright = ImageOps.exif_transpose(opened).convert("RGB")
    except (
        UnidentifiedImageError,
        OSError,
        SyntaxError,
        ValueError,
        Image.DecompressionBombWarning,
    ) as fault:
        if isinstance(fault, InvalidValueError):
            raise
        raise InvalidValueError(
            _("this is no photo that can be read: take it as JPEG, PNG or WebP")
        ) from fault
    upright.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
    bare = Image.new("RGB", upright.size)
    bare.paste(upright)
    written = io.BytesIO()
    bare.save(written, format="JPEG", quality=82)
    return written.getvalue(), bare.width, bare.height


def _refuse_too_many_pixels(opened: Image.Image) -> None:
    if opened.width * opened.height > MOST_PIXELS:
        raise InvalidValueError(
            _("the photo has more than {most_pixels} million pixels", most_pixels=MOST_PIXELS // 10**6)
        )
