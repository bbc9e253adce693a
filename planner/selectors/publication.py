"""What publishing a draft would tell whom, before anybody is told."""

from dataclasses import dataclass

from planner.domain.permissions import Action
from planner.domain.webhooks import WebhookEvent
from planner.models import CalendarFeed, Plan, Site, SiteMembership, User, Webhook
from planner.selectors.access import require_on_site
from planner.selectors.crew_changes import CrewChange, crew_change_list
from planner.selectors.plan_promises import promise_map_get
from planner.selectors.plans import plan_published_get
from planner.selectors.promise_changes import PromiseChange, followed_change_list, promises_moved
from planner.selectors.webhooks import webhook_is_served, webhooks_asking


@dataclass(frozen=True, slots=True, kw_only=True)
class Publication:
    """Who hears: followers by notices, crew on sheets, programs by webhooks, calendars when they look."""

    promises: tuple[PromiseChange, ...]
    crew: tuple[CrewChange, ...]
    webhooks: tuple[Webhook, ...]
    calendars: tuple[CalendarFeed, ...]


def publication_get(*, user: User, site: Site, draft: Plan) -> Publication:
    """What publishing the draft would tell whom."""
    require_on_site(user=user, site=site, action=Action.PLAN_PUBLISH)
    before = plan_published_get(user=user, site=site)
    old, new = promise_map_get(plan=before), promise_map_get(plan=draft)
    return Publication(
        promises=tuple(followed_change_list(site=site, before=old, after=new)),
        crew=tuple(crew_change_list(site=site, before=before, after=draft)),
        webhooks=tuple(_webhooks(site, are_moved=bool(promises_moved(old, new)))),
        calendars=tuple(_calendars(site)),
    )


def _webhooks(site: Site, *, are_moved: bool) -> list[Webhook]:
    """Those that ask for a publication, or for changed promises where there are any; by name."""
    events = [WebhookEvent.PLAN_PUBLISHED, *([WebhookEvent.PROMISES_CHANGED] if are_moved else [])]
    asking = {each.pk: each for event in events for each in webhooks_asking(site=site, event=event)}
    served = (each for each in asking.values() if webhook_is_served(webhook=each))
    return sorted(served, key=lambda each: each.name)


def _calendars(site: Site) -> list[CalendarFeed]:
    """The addresses that answer, by their readers' names."""
    members = SiteMembership.objects.filter(site=site, user__is_active=True).values("user")
    feeds = CalendarFeed.objects.filter(site=site, revoked_at__isnull=True, user__in=members)
    return list(feeds.select_related("user").order_by("user__username", "kind"))
