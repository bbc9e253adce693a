"""In another language the core's own sentences are told in it too: reasons, breaches, refusals, verdicts."""

import re

import pytest
from django.test import Client

from planner.domain.sentences import recalled
from planner.models import User
from planner.selectors.accounts.comparisons import repair_comparison_get
from planner.selectors.plan_promises import not_entered_map_get
from planner.selectors.plans import plan_content_get
from planner.services.cure_log_uploads import cure_log_upload_add, upload_keep
from tests.integration.cure_site import CureSite
from tests.lib.books import books
from tests.lib.cure_logs import readings, rows
from tests.lib.made_up_language import CATALOGUE, GIVEN, BracketedWords, left_over, outside, speak
from tests.lib.mine import Mine, mine_equipped
from tests.lib.plans import plan_drafted, plan_next

pytestmark = pytest.mark.django_db

OURS = GIVEN | {"Mar", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}
"""What the people of this mine named so, and what Django's own catalogue says."""


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine with more tyres than three days take, and one that no set fits."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    for number in range(12):
        mine.order(f"A{number}")
    mine.order("B1", size="27.00R49")
    return mine


def client_of(user: User) -> Client:
    client = Client()
    client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
    return client


def bracketed(template: str, page: str) -> bool:
    """Whether the page tells this template in brackets, whatever its figures are."""
    pattern = re.escape(f"⟦{template}⟧")
    return re.search(re.sub(r"\\{[^{}]*\\}", "[^<]*", pattern), page) is not None


def test_why_tyres_are_left_out_is_told_in_it(mine: Mine, monkeypatch: pytest.MonkeyPatch) -> None:
    plan = plan_next(mine)
    reasons = [reason for each in plan_content_get(plan=plan).plan.unplanned for reason in each.reasons]
    (no_fit,) = not_entered_map_get(plan=plan).values()
    assert reasons, "the mine has room for all: nothing is left out"
    speak(BracketedWords(CATALOGUE), monkeypatch)
    page = client_of(mine.supervisor).get(f"/at/ridge/plan/{plan.pk}/").content.decode()
    for reason in reasons:
        assert bracketed(reason.message.template, page), reason.message.template
        assert str(reason.message) not in outside(page)
    why = client_of(mine.users["planner"]).get("/at/ridge/orders/13/why/").content.decode()
    assert bracketed(no_fit.template, why)
    assert list(left_over(why, OURS)) == []


def test_a_breach_is_told_in_it(mine: Mine, monkeypatch: pytest.MonkeyPatch) -> None:
    plan = plan_drafted(mine)
    job = plan_content_get(plan=plan).plan.schedule.jobs[0].id
    speak(BracketedWords(CATALOGUE), monkeypatch)
    # 20:00 on the first day: the shift is over at 18:00, so its crew is not there.
    late = {"job": job, "stage": "Rig", "start": "840"}
    page = client_of(mine.supervisor).post(f"/at/ridge/plan/{plan.pk}/move/", late).content.decode()
    notice = page[page.index('class="notice bad') :].partition("</ul>")[0]
    assert "<li>⟦⟦" in notice or "<li>⟦" in notice
    assert list(left_over(f"<div {notice}", OURS)) == []


@pytest.mark.parametrize("address", ["orders/999/", "plan/999/"])
def test_a_refusal_is_told_in_it(mine: Mine, address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    speak(BracketedWords(CATALOGUE), monkeypatch)
    answer = client_of(mine.supervisor).get(f"/at/ridge/{address}")
    assert answer.status_code == 404
    assert list(left_over(answer.content.decode(), OURS)) == []


def test_advice_on_a_tyre_is_told_in_it(monkeypatch: pytest.MonkeyPatch) -> None:
    found = books()
    advice = repair_comparison_get(user=found.accountant, site=found.site, number=1).advice
    speak(BracketedWords(CATALOGUE), monkeypatch)
    address = f"/at/{found.site.code}/accounts/compare/1/"
    page = client_of(found.accountant).get(address).content.decode()
    for sentence in (advice.sentence, *(reason.message for reason in advice.reasons)):
        assert str(sentence) not in outside(page)
    assert "⟦⟦The figures lean to ⟦repairing⟧⟧: ⟦⟦repairing⟧ costs AUD" in page
    assert all(bracketed(reason.message.template, page) for reason in advice.reasons)


def test_the_verdict_on_a_cure_is_told_in_it(monkeypatch: pytest.MonkeyPatch) -> None:
    bay = CureSite()
    minutes, inner, outer, bags = readings()
    inner[100] += 60
    lines = [",".join(map(str, row.values())) for row in rows(minutes, inner, outer, bags)]
    raw = ("Time,In,Out,Bag psi\n" + "\n".join(lines) + "\n").encode()
    upload = cure_log_upload_add(user=bay.technician, damage=bay.damage, raw=raw, name="cure.csv")
    judgement = upload_keep(user=bay.technician, upload=upload).judgement
    speak(BracketedWords(CATALOGUE), monkeypatch)
    page = client_of(bay.supervisor).get(f"/at/north/orders/{bay.order.number}/cures/").content.decode()
    told = [each["told"] for each in (*judgement["checks"], *judgement["findings"])]
    assert {"spike"} <= {each["kind"] for each in judgement["findings"]}
    assert all(recalled(each) not in outside(page) for each in (*told, *judgement["why_told"]))
    for each in judgement["checks"]:
        assert bracketed(recalled(each["told"]).template, page), each
