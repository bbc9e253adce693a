"""Reading a tyre size as people write it: spaces, case, signs, missing points and extra markings."""

import re
from dataclasses import dataclass
from decimal import Decimal

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.domain.sizes import Construction, SizeFamily, TyreSize

_LONGEST = 60
_NUMBER = r"\d{1,4}(?:\.\d{1,2})?"
_SIZE = re.compile(
    rf"(?P<width>{_NUMBER})\s*(?:/\s*(?P<aspect>\d{{2,3}}))?\s*(?P<sign>[-RX])\s*(?P<rim>\d{{1,2}}(?:\.\d)?)(?![\d.])"
)
_MARKINGS = {
    "ply_rating": re.compile(r"\b(?P<value>\d{1,3})\s*(?:PR|PLY)\b"),
    "star_digits": re.compile(r"\b(?P<value>[123])\s*(?:STARS?\b|\*(?!\*))"),
    "stars": re.compile(r"(?P<value>\*{1,3})"),
    "tread_code": re.compile(r"\b(?P<value>(?:E|G|L|C|LS|IND)\s*-?\s*\d[A-Z]?)\b"),
    "tube": re.compile(r"\b(?P<value>TL|TT|TUBELESS|TUBE\s*TYPE)\b"),
}
_EXAMPLES = _("write it like 27.00R49, 20.5-25, 35/65R33 or 750/65R25")


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeReading:
    """A size as it was written and as it was read, with what else stood beside it."""

    written: str
    size: TyreSize
    ply_rating: int | None = None
    star_rating: int | None = None
    tread_code: str | None = None
    tubeless: bool | None = None


def size_read(written: str) -> SizeReading:
    """Read one designation; raises InvalidValueError that names the fault and shows how to write it."""
    if len(written) > _LONGEST:
        raise InvalidValueError(
            _(
                "a tyre size is at most {longest} characters long; {examples}",
                longest=_LONGEST,
                examples=_EXAMPLES,
            )
        )
    text = _tidied(written)
    match = _SIZE.match(text)
    if match is None:
        raise InvalidValueError(
            _("{written:quoted} is not a tyre size; {examples}", written=written, examples=_EXAMPLES)
        )
    try:
        size = _size_of(match)
    except InvalidValueError as fault:
        raise InvalidValueError(
            _(
                "{written:quoted} is not a tyre size: {fault}; {examples}",
                written=written,
                fault=fault,
                examples=_EXAMPLES,
            )
        ) from fault
    markings, rest = _markings_of(text[match.end() :])
    if rest:
        raise InvalidValueError(
            _(
                "{written:quoted} is not a tyre size: {rest:quoted} after {size} means nothing here",
                written=written,
                rest=rest,
                size=size,
            )
        )
    return SizeReading(written=written, size=size, **markings)  # type: ignore[arg-type]


def _tidied(written: str) -> str:
    """Capital letters, single spaces, a point for a comma, one sign for each dash and cross."""
    text = re.sub(r"\s+", " ", written.strip().upper())
    text = re.sub(r"(?<=\d),(?=\d{1,2}\b)", ".", text)
    return text.translate(str.maketrans("–—‐−×★", "----X*"))


def _size_of(match: re.Match[str]) -> TyreSize:
    # An X between the numbers is a plain "by": such sizes are bias unless an R says otherwise.
    construction = Construction.RADIAL if match["sign"] == "R" else Construction.BIAS
    width, aspect = Decimal(match["width"]), match["aspect"]
    if aspect is None:
        family, width = _family_by_width(match["width"], width)
    else:
        family = SizeFamily.METRIC if width >= 100 else SizeFamily.LOW_ASPECT
    return TyreSize(
        family=family,
        width=width,
        aspect_percent=None if aspect is None else Decimal(aspect),
        construction=construction,
        rim_inch=Decimal(match["rim"]),
    )


def _family_by_width(written: str, width: Decimal) -> tuple[SizeFamily, Decimal]:
    """Conventional widths are whole inches, written with two zeros or with the point left out."""
    if "." not in written and width >= 100:
        width = width / 100 if len(written) == 4 else width / 10
    if width == width.to_integral_value():
        return SizeFamily.CONVENTIONAL, width.to_integral_value()
    return SizeFamily.WIDE_BASE, width.normalize()


def _markings_of(rest: str) -> tuple[dict[str, int | str | bool], str]:
    """The markings behind the size, and what of the text is none of them."""
    found: dict[str, str] = {}
    for name, pattern in _MARKINGS.items():
        if match := pattern.search(rest):
            found[name] = match["value"]
            rest = f"{rest[: match.start()]} {rest[match.end() :]}"
    return _meanings(found), re.sub(r"[\s,;()/]+", " ", rest).strip()


def _meanings(found: dict[str, str]) -> dict[str, int | str | bool]:
    meanings: dict[str, int | str | bool] = {}
    if "ply_rating" in found:
        meanings["ply_rating"] = int(found["ply_rating"])
    if "star_digits" in found or "stars" in found:
        meanings["star_rating"] = int(found.get("star_digits") or len(found["stars"]))
    if "tread_code" in found:
        meanings["tread_code"] = re.sub(r"^([A-Z]+)\s*-?\s*", r"\1-", found["tread_code"])
    if "tube" in found:
        meanings["tubeless"] = found["tube"] in ("TL", "TUBELESS")
    return meanings
