"""What publishing would tell whom, seen before anybody is told; and that it then comes true."""

from datetime import date

import pytest
from django.test import Client

from planner.domain.errors import NotAllowedError
from planner.domain.feeds import FeedKind
from planner.domain.webhooks import WebhookEvent
from planner.models import Notice, Plan, SiteMembership, Webhook, WebhookDelivery, WorkOrder
from planner.selectors.publication import Publication, publication_get
from planner.services.calendar_feeds import calendar_feed_make
from planner.services.plans import plan_publish
from planner.services.promise_notices import promise_notices_tell
from planner.services.tyre_follows import tyre_follow
from planner.services.webhooks import webhook_make
from tests.lib.mine import DAY, Mine, at, mine_equipped
from tests.lib.plans import plan_drafted, plan_next

pytestmark = pytest.mark.django_db
TUESDAY = date(2026, 3, 3)


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine with one tyre, and nothing that is really sent."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    mine.order("A1")
    return mine


def receiver(mine: Mine, name: str, *events: WebhookEvent) -> Webhook:
    return webhook_make(
        user=mine.users["administrator"], site=mine.site, name=name, url="https://8.8.8.8/in", events=events
    )[0]


def seen(mine: Mine, draft: Plan) -> Publication:
    return publication_get(user=mine.supervisor, site=mine.site, draft=draft)


def crew(publication: Publication) -> dict[str, tuple[date, ...]]:
    return {each.technician.code: each.days for each in publication.crew}


def test_with_nothing_published_whoever_works_hears_of_their_day(mine: Mine) -> None:
    draft = plan_drafted(mine)
    told = crew(seen(mine, draft))
    working = {name for name in ("T1", "T2") if f'"{name}"' in draft.plan_json}
    assert told == dict.fromkeys(sorted(working), (DAY,))


def test_the_same_plan_again_tells_programs_of_the_publication_alone(mine: Mine) -> None:
    tyre_follow(user=mine.users["planner"], tyre=WorkOrder.objects.get().tyre)
    receiver(mine, "promises", WebhookEvent.PROMISES_CHANGED)
    receiver(mine, "plans", WebhookEvent.PLAN_PUBLISHED)
    plan_next(mine)
    publication = seen(mine, plan_drafted(mine))
    assert (publication.promises, publication.crew) == ((), ())
    assert [each.name for each in publication.webhooks] == ["plans"]


def test_a_day_s_delay_names_everybody_and_then_comes_true(mine: Mine) -> None:
    tyre_follow(user=mine.users["planner"], tyre=WorkOrder.objects.get().tyre)
    calendar_feed_make(user=mine.users["planner"], site=mine.site, kind=FeedKind.READY)
    promised = receiver(mine, "dispatch board", WebhookEvent.PROMISES_CHANGED)
    receiver(mine, "alarms alone", WebhookEvent.TYRE_UNATTENDED)
    plan_next(mine)
    WorkOrder.objects.update(released_at=at(6, days=1))
    draft = plan_drafted(mine)
    publication = seen(mine, draft)
    (change,) = publication.promises
    assert (change.followers, change.is_later) == ((mine.users["planner"],), True)
    # What is gone from Monday and what comes on Tuesday both change somebody's sheet.
    assert {day for days in crew(publication).values() for day in days} == {DAY, TUESDAY}
    assert publication.webhooks == (promised,)
    assert [(each.user, each.kind) for each in publication.calendars] == [
        (mine.users["planner"], FeedKind.READY)
    ]
    WebhookDelivery.objects.all().delete()
    published = plan_publish(user=mine.supervisor, plan=draft, expected_number=1)
    promise_notices_tell(plan_id=published.pk)
    assert set(Notice.objects.values_list("user", flat=True)) == {mine.users["planner"].pk}
    assert [each.webhook for each in WebhookDelivery.objects.all()] == [promised]


def test_who_lost_the_site_hears_nothing(mine: Mine) -> None:
    planner = mine.users["planner"]
    tyre_follow(user=planner, tyre=WorkOrder.objects.get().tyre)
    calendar_feed_make(user=planner, site=mine.site, kind=FeedKind.SHIFTS)
    hook = receiver(mine, "plans", WebhookEvent.PLAN_PUBLISHED)
    SiteMembership.objects.filter(user__in=[planner, hook.made_by]).delete()
    publication = seen(mine, plan_drafted(mine))
    assert (publication.promises, publication.calendars, publication.webhooks) == ((), (), ())


def test_only_who_may_publish_sees_it(mine: Mine) -> None:
    with pytest.raises(NotAllowedError):
        publication_get(user=mine.users["accountant"], site=mine.site, draft=plan_drafted(mine))


def test_who_was_slower_comes_back_to_the_draft_beside_what_was_published(mine: Mine) -> None:
    mine_draft = plan_drafted(mine)
    plan_next(mine)
    client = Client()
    client.force_login(mine.supervisor)
    page = client.post(f"/at/ridge/plan/{mine_draft.pk}/publish/", {"expected": ""}, follow=True)
    assert page.redirect_chain == [(f"/at/ridge/plan/{mine_draft.pk}/?compare=yes", 302)]
    words = page.content.decode()
    assert "supervisor-ridge published plan 1 in the meantime" in words
    assert "What moves against plan 1" in words
    assert Plan.objects.get(pk=mine_draft.pk).state == "draft"


def test_the_dialog_names_them(mine: Mine) -> None:
    tyre_follow(user=mine.users["planner"], tyre=WorkOrder.objects.get().tyre)
    calendar_feed_make(user=mine.users["planner"], site=mine.site, kind=FeedKind.READY)
    receiver(mine, "dispatch board", WebhookEvent.PLAN_PUBLISHED)
    client = Client()
    client.force_login(mine.supervisor)
    page = client.get(f"/at/ridge/plan/{plan_drafted(mine).pk}/tells/").content.decode()
    for words in (
        "WO-0001 (A1): promised ready",
        "Mon 2 Mar",
        "planner-ridge (ready times)",
        "dispatch board",
    ):
        assert words in page
