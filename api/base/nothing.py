"""An address of the API at which nothing stands."""

from django.http import Http404
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SignedInView


@extend_schema(exclude=True)
class Nothing(SignedInView):
    """Says so in the API's own shape, whatever the method."""

    def initial(self, request: Request, *args: object, **named: object) -> None:
        """Who did not sign in is told that first."""
        super().initial(request, *args, **named)
        raise Http404

    def get(self, request: Request) -> Response:
        """Never reached."""
        raise Http404
