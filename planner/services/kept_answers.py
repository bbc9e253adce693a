"""Doing something once, however often it is asked for with the same key."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import timedelta

from django.db import IntegrityError, transaction
from django.utils import timezone

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.models import KeptAnswer, User

KEPT_FOR = timedelta(hours=24)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What was answered: a status, a JSON text and the headers that belong to it."""

    status: int
    body: str
    headers: Mapping[str, str] = field(default_factory=dict)
    repeated: bool = False


class KeyReusedError(InvalidValueError):
    """The key was used before, for another request."""


def answer_once(*, user: User, key: str, request_sha256: str, work: Callable[[], Answer]) -> Answer:
    """Do `work` and keep its answer, in one transaction; give the kept one where the key was used.

    An error leaves nothing behind, so the same key may try again. Raises KeyReusedError where the key came
    with another request before. Two at once: the second waits in the database for the first.
    """
    if not re.fullmatch("[!-~]{1,200}", key):
        raise InvalidValueError(_("an idempotency key has 1 to 200 printable characters of ASCII, no space"))
    KeptAnswer.objects.filter(user=user, made_at__lt=timezone.now() - KEPT_FOR).delete()
    with transaction.atomic():
        row = _claimed(user, key, request_sha256)
        if row is None:
            return _kept(user, key, request_sha256)
        answer = work()
        row.status, row.body, row.headers = answer.status, answer.body, dict(answer.headers)
        row.save(update_fields=["status", "body", "headers"])
    return answer


def _claimed(user: User, key: str, request_sha256: str) -> KeptAnswer | None:
    """A new row for the key; None where there is one."""
    try:
        with transaction.atomic():
            return KeptAnswer.objects.create(
                user=user, key=key, request_sha256=request_sha256, made_at=timezone.now()
            )
    except IntegrityError:
        return None


def _kept(user: User, key: str, request_sha256: str) -> Answer:
    row = KeptAnswer.objects.get(user=user, key=key)
    if row.request_sha256 != request_sha256:
        raise KeyReusedError(_("this idempotency key was used for another request: take a new one"))
    return Answer(status=row.status, body=row.body, headers=row.headers, repeated=True)
