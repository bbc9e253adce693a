"""Entity tags and the preconditions of RFC 9110: no update is lost, no answer is sent twice."""

import hashlib
import json
from typing import Any

from django.utils.http import parse_etags
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request

from api.base.problems import PreconditionRequiredError
from planner.domain.errors import ChangedMeanwhileError


def entity_tag(data: Any) -> str:
    """A strong tag of a representation: equal tags, equal members in whatever order (RFC 8259, 4).

    A database may hand back the members of a stored object in an order of its own.
    """
    members = json.loads(JSONRenderer().render(data))
    return f'"{hashlib.sha256(json.dumps(members, sort_keys=True).encode()).hexdigest()[:32]}"'


def require_if_match(request: Request) -> None:
    """Raise PreconditionRequiredError (428) where a change does not say what it was decided on."""
    if not request.headers.get("If-Match", "").strip():
        raise PreconditionRequiredError("send the thing's ETag as If-Match, so that no other change is lost")


def refuse_unmatched(request: Request, data: Any) -> None:
    """Raise ChangedMeanwhileError (412) where no tag of `If-Match` is that of the thing as it stands."""
    tags = parse_etags(request.headers.get("If-Match", ""))
    if tags != ["*"] and entity_tag(data) not in tags:
        raise ChangedMeanwhileError("it is no longer as you read it: read it again, then decide")


def is_known(request: Request, tag: str) -> bool:
    """Whether the caller holds this representation already (`If-None-Match`, weakly compared)."""
    tags = [each.removeprefix("W/") for each in parse_etags(request.headers.get("If-None-Match", ""))]
    return tags == ["*"] or tag in tags
