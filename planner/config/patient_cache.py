"""A shared cache that may be lost: what is not there is worked out again, and no page fails for it."""

import logging
from typing import Any

from django.core.cache.backends.redis import RedisCache
from redis.exceptions import RedisError

logger = logging.getLogger("tyrewright.cache")


class PatientRedisCache(RedisCache):
    """Redis, whose absence is logged and looks like an empty cache. Counts of that time are lost."""

    def add(self, key: Any, *others: Any, **named: Any) -> bool:
        """As Django's; True where nobody can know."""
        return bool(self._tried("add", True, key, *others, **named))

    def get(self, key: Any, default: Any = None, *others: Any, **named: Any) -> Any:
        """As Django's; the default where Redis is lost."""
        return self._tried("get", default, key, default, *others, **named)

    def get_many(self, *others: Any, **named: Any) -> dict[Any, Any]:
        """As Django's; nothing where Redis is lost."""
        return dict(self._tried("get_many", {}, *others, **named))

    def set(self, *others: Any, **named: Any) -> None:
        """As Django's, or nothing."""
        self._tried("set", None, *others, **named)

    def incr(self, key: Any, delta: int = 1, *others: Any, **named: Any) -> int:
        """As Django's; the step alone where Redis is lost."""
        return int(self._tried("incr", delta, key, delta, *others, **named))

    def delete(self, *others: Any, **named: Any) -> bool:
        """As Django's, or nothing."""
        return bool(self._tried("delete", False, *others, **named))

    def _tried(self, what: str, otherwise: Any, *others: Any, **named: Any) -> Any:
        try:
            return getattr(super(), what)(*others, **named)
        except (RedisError, OSError):
            logger.warning("the cache is lost")
            return otherwise
