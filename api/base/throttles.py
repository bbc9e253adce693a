"""How often one user, and one address, may ask."""

from rest_framework.request import Request
from rest_framework.throttling import SimpleRateThrottle, UserRateThrottle


class UserThrottle(UserRateThrottle):
    """Every user's own allowance, whatever they sign in with."""

    scope = "user"


class AddressThrottle(SimpleRateThrottle):
    """Every address's allowance, signed in or not: it also slows the guessing of tokens."""

    scope = "address"

    def get_cache_key(self, request: Request, view: object) -> str:
        """One count for each address."""
        return self.cache_format % {"scope": self.scope, "ident": self.get_ident(request)}
