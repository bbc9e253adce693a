"""Audit events, newest first."""

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.named import Named
from api.base.views import SiteView
from planner.domain.permissions import Action
from planner.selectors.audit_events import audit_event_list
from planner.selectors.nouns import AuditEvent


class AuditEventShape(serializers.ModelSerializer[AuditEvent]):
    """One write; each event's hash covers the one before."""

    user = Named(slug_field="username", read_only=True, allow_null=True)
    details = serializers.DictField(read_only=True)

    class Meta:
        """All but its site and row."""

        model = AuditEvent
        exclude = ("id", "site")


class AuditSearch(serializers.Serializer[AuditEvent]):
    """Events of one noun, or of one thing."""

    noun = serializers.SlugField(required=False, max_length=40, help_text="such as workorder")
    noun_id = serializers.CharField(required=False, max_length=40)


class AuditEvents(SiteView):
    """The chain of a site's events."""

    actions = {"GET": Action.AUDIT_READ}

    @extend_schema(
        operation_id="audit_event_list", parameters=[AuditSearch], responses=AuditEventShape(many=True)
    )
    def get(self, request: Request, site: str) -> Response:
        """The events, newest first."""
        asked = self.asked(AuditSearch)
        return self.page(audit_event_list(user=self.user, site=self.site, **asked), AuditEventShape)
