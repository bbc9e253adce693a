"""A hot tyre that nobody attends is an alarm on every page until somebody has signed on."""

from datetime import datetime, timedelta

import pytest
from django.test import Client

from planner.domain.errors import ConflictError, NotAllowedError
from planner.models import Damage, HeaterSet, Skill, StageRun, Technician, TyreWatch, User
from planner.selectors.attendance import attended_tyre_list
from planner.services.tyre_watches import watch_hand_over, watch_sign_off, watch_sign_on
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine() -> Mine:
    """A mine whose one tyre is being cured since 08:30; T1 is the technician who signs in."""
    mine = mine_equipped()
    order = mine.order("A1")
    Technician.objects.filter(code="T1").update(user=mine.users["technician"])
    cure_begin(mine, Damage.objects.get(work_order=order))
    return mine


def cure_begin(mine: Mine, damage: Damage) -> None:
    assert damage.work_order
    for sequence, name in enumerate(("Skive", "Fill", "Rig", "Cure"), start=1):
        is_cure = name == "Cure"
        StageRun.objects.create(
            site=mine.site, work_order=damage.work_order, damage=damage, sequence=sequence, name=name,
            state="running" if is_cure else "done", started_at=at(7), ended_at=None if is_cure else at(8),
            heater_set=HeaterSet.objects.get(code="H1") if sequence > 2 else None,
        )  # fmt: skip


def alarms(mine: Mine, now: datetime) -> list[str]:
    return [each.alarm for each in attended_tyre_list(user=mine.supervisor, site=mine.site, now=now)]


def tyre() -> int:
    return Damage.objects.get().pk


def sign_on(mine: Mine, who: str, user: str = "supervisor", hour: int = 9) -> TyreWatch:
    return watch_sign_on(
        user=mine.users[user], site=mine.site, damage_id=tyre(), technician=who, now=at(hour)
    )


def test_the_alarm_lasts_until_somebody_on_shift_signs_on(mine: Mine) -> None:
    assert alarms(mine, at(9)) == ["nobody has signed on to attend it"]
    sign_on(mine, "T1", "technician")
    assert alarms(mine, at(9)) == [""]
    watch_sign_off(user=mine.users["technician"], site=mine.site, damage_id=tyre(), now=at(10))
    assert alarms(mine, at(10)) == ["T1 has signed off and nobody attends it"]


def test_an_attendant_whose_shift_is_over_no_longer_counts(mine: Mine) -> None:
    sign_on(mine, "T1")
    assert alarms(mine, at(17, 59)) == [""]
    assert alarms(mine, at(18)) == ["the shift of T1 is over and it was not handed over"]


def test_who_was_called_in_counts_off_shift(mine: Mine) -> None:
    sign_on(mine, "T1", hour=19)
    assert alarms(mine, at(20)) == [""]


def test_a_hand_over_counts_once_it_is_taken_by_name(mine: Mine) -> None:
    sign_on(mine, "T1")
    watch_hand_over(user=mine.users["technician"], site=mine.site, damage_id=tyre(), to="T2")
    assert alarms(mine, at(10)) == [""]
    watch_sign_off(user=mine.users["technician"], site=mine.site, damage_id=tyre(), now=at(11))
    assert alarms(mine, at(11)) == ["T1 has signed off and T2 has not taken it over"]
    sign_on(mine, "T2", hour=12)
    assert alarms(mine, at(12)) == [""]
    assert TyreWatch.objects.filter(signed_off_at__isnull=True).get().technician.code == "T2"


def test_taking_over_ends_the_watch_before_it(mine: Mine) -> None:
    sign_on(mine, "T1")
    with pytest.raises(ConflictError, match="T1 attends it"):
        sign_on(mine, "T2")
    watch_hand_over(user=mine.supervisor, site=mine.site, damage_id=tyre(), to="T2")
    sign_on(mine, "T2", hour=12)
    assert TyreWatch.objects.get(technician__code="T1").signed_off_at == at(12)


@pytest.mark.parametrize("who", ["T1", "T2"])
def test_a_watch_whose_shift_is_over_keeps_nobody_from_signing_on(mine: Mine, who: str) -> None:
    sign_on(mine, "T1")
    assert alarms(mine, at(19)) == ["the shift of T1 is over and it was not handed over"]
    sign_on(mine, who, hour=19)
    assert alarms(mine, at(19)) == [""]
    assert TyreWatch.objects.get(signed_off_at__isnull=True).technician.code == who


def test_nobody_signs_for_somebody_else_but_a_supervisor(mine: Mine) -> None:
    with pytest.raises(NotAllowedError, match="only T2"):
        sign_on(mine, "T2", "technician")
    assert sign_on(mine, "T2").technician.code == "T2"


def test_one_attends_no_more_tyres_than_the_site_allows(mine: Mine) -> None:
    mine.site.cures_per_attendant = 1
    mine.site.save()
    other = mine.damage(Damage.objects.get().tyre)
    first = Damage.objects.exclude(pk=other.pk).get()
    watch_sign_on(user=mine.supervisor, site=mine.site, damage_id=first.pk, technician="T1")
    with pytest.raises(ConflictError, match="attends 1 already"):
        watch_sign_on(user=mine.supervisor, site=mine.site, damage_id=other.pk, technician="T1")


def client_of(user: User) -> Client:
    client = Client()
    client.force_login(user)
    return client


def test_every_page_asks_for_the_alarm_within_five_seconds(mine: Mine) -> None:
    for role, user in mine.users.items():
        client = client_of(user)
        page = client.get(f"/at/{mine.site.code}/").content.decode()
        assert f'hx-get="/at/{mine.site.code}/alarm/"' in page, role
        assert 'hx-trigger="load, every 4s,' in page
        told = client.get(f"/at/{mine.site.code}/alarm/").content.decode()
        assert "UNATTENDED" in told
        assert "nobody has signed on to attend it" in told


def test_an_alarm_that_is_shown_already_is_not_read_out_again(mine: Mine) -> None:
    client = client_of(mine.supervisor)
    address = f"/at/{mine.site.code}/alarm/"
    told = client.get(address)
    seen = str(told.context["seen"])
    assert client.get(address, {"seen": seen}).status_code == 204
    StageRun.objects.all().delete()
    quiet = client.get(address, {"seen": seen})
    assert quiet.status_code == 200
    assert "UNATTENDED" not in quiet.content.decode()


def test_signing_on_from_the_floor_page(mine: Mine) -> None:
    client = client_of(mine.users["technician"])
    assert "I, T1, attend it" in client.get(f"/at/{mine.site.code}/floor/").content.decode()
    assert tap(client, mine, "attend", technician="T1")["words"] == "T1 attends it now."
    assert TyreWatch.objects.get().signed_on_at > at(0) - timedelta(days=1)
    tap(client, mine, "hand-over", technician="T2")
    assert "T2 is asked to take over" in client.get(f"/at/{mine.site.code}/floor/").content.decode()
    tap(client, mine, "leave")
    assert TyreWatch.objects.get().signed_off_at is not None


def tap(client: Client, mine: Mine, action: str, **told: str) -> dict[str, str]:
    told = {"action": action, "damage": str(tyre()), **told}
    words: dict[str, str] = client.post(f"/at/{mine.site.code}/floor/tap/", told).json()
    return words


def test_only_who_was_asked_is_offered_to_take_it_over(mine: Mine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("django.utils.timezone.now", lambda: at(10))
    sign_on(mine, "T2")
    page = client_of(mine.users["technician"]).get(f"/at/{mine.site.code}/floor/").content.decode()
    assert "T2 attends it" in page
    assert 'data-tap-action="attend"' not in page
    watch_hand_over(user=mine.supervisor, site=mine.site, damage_id=tyre(), to="T1")
    page = client_of(mine.users["technician"]).get(f"/at/{mine.site.code}/floor/").content.decode()
    assert "I, T1, take it over" in page


def test_a_tap_without_a_tyre_says_what_to_do(mine: Mine) -> None:
    answer = client_of(mine.supervisor).post(f"/at/{mine.site.code}/floor/tap/", {"action": "leave"})
    assert answer.status_code == 409
    assert "load the page again" in answer.json()["words"]


def test_who_lacks_the_skill_of_the_watch_neither_signs_on_nor_is_asked(mine: Mine) -> None:
    Technician.objects.get(code="T2").skills.remove(Skill.objects.get(code=mine.site.watch_skill))
    with pytest.raises(
        NotAllowedError, match="T2 may not attend a cure: the skill of the watch here is cure"
    ):
        sign_on(mine, "T2")
    sign_on(mine, "T1")
    with pytest.raises(NotAllowedError, match="may not attend"):
        watch_hand_over(user=mine.supervisor, site=mine.site, damage_id=tyre(), to="T2")
    assert TyreWatch.objects.get().handed_to is None
