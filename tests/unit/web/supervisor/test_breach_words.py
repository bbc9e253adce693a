"""Words of the core as the bay says them."""

from datetime import datetime

from planner.domain.sentences import Sentence, _
from planner.web.supervisor.breach_words import breach_words
from planner.web.supervisor.naming import Names

NAMES = Names(jobs={}, resources={"T1": "Tove", "T10": "Bram", "H1": "Small 1"})


def test_ids_become_names_and_times_short() -> None:
    # 25 November 2026 is a Wednesday.
    message = _(
        "{technician}: works on {one} and on {two} at {when:minute}",
        technician="T1", one="WO-0019", two=("H1", "T10", "X-T1"), when=datetime(2026, 11, 25, 12, 35),  # noqa: DTZ001
    )  # fmt: skip
    assert message == "T1: works on WO-0019 and on H1, T10, X-T1 at 2026-11-25 12:35"
    assert breach_words(message, NAMES) == "Tove: works on WO-0019 and on Small 1, Bram, X-T1 at Wed 12:35"


def test_a_message_that_was_kept_without_figures_still_gets_the_names() -> None:
    kept = Sentence("T1: works on H1, T10 and X-T1 at 2026-11-25 12:35")
    assert breach_words(kept, NAMES) == "Tove: works on Small 1, Bram and X-T1 at Wed 12:35"
