"""Everybody reads in their own units."""

import pytest
from django.test import Client

from planner.domain.errors import InvalidValueError
from planner.models import UserPreference
from planner.selectors.preferences import reading_get
from planner.selectors.reading_units import pressure_words, temperature_words
from planner.services.preferences import preference_set
from tests.lib.mine import mine_open

pytestmark = pytest.mark.django_db


def test_the_choice_of_a_user_stands_before_the_sites() -> None:
    mine = mine_open()
    client = Client()
    client.force_login(mine.supervisor)
    client.post("/account/reading/", {"temperature_unit": "°F", "pressure_unit": "bar", "language": ""})
    reading = reading_get(user=mine.supervisor, site=mine.site)
    assert (temperature_words(140, reading), pressure_words(207, reading)) == ("284 °F", "2.07 bar")
    other = reading_get(user=mine.users["planner"], site=mine.site)
    assert (temperature_words(140, other), pressure_words(207, other)) == ("140 °C", "207 kPa")
    assert (temperature_words(None, other), pressure_words(None, other)) == ("–", "–")
    assert '<option value="bar" selected>' in client.get("/account/reading/").content.decode()
    client.post("/account/reading/", {"temperature_unit": "", "pressure_unit": "", "language": ""})
    assert reading_get(user=mine.supervisor, site=mine.site).temperature_unit == "°C"
    assert UserPreference.objects.count() == 1


def test_an_unknown_unit_is_refused() -> None:
    mine = mine_open()
    with pytest.raises(InvalidValueError, match="none of °C, °F"):
        preference_set(user=mine.supervisor, language="", temperature_unit="K", pressure_unit="")
    client = Client()
    client.force_login(mine.supervisor)
    assert (
        "Select a valid choice" in client.post("/account/reading/", {"pressure_unit": "atm"}).content.decode()
    )
