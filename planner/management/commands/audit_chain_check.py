"""Prove each site's chain of audit events: `manage.py audit_chain_check`."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from planner.models import AuditEvent, Site
from planner.services.audit import audit_chain_faults


class Command(BaseCommand):
    """One line for each site; exit code 1 with every fault where a chain is broken."""

    help = "Prove that no audit event of any site was changed, removed or slipped in."

    def handle(self, *_: Any, **__: Any) -> None:
        """Go through all sites before saying that one is broken."""
        broken = []
        for site in Site.objects.order_by("pk"):
            faults = audit_chain_faults(site=site)
            broken += [f"{site.code}: {fault}" for fault in faults]
            if not faults:
                count = AuditEvent.objects.filter(site=site).count()
                self.stdout.write(f"{site.code}: {count} events, chain whole")
        if broken:
            raise CommandError("The chain is broken.\n" + "\n".join(broken))
