"""Messages between workers: whole ones arrive, and one cut short by a death is none."""

from io import BytesIO

from planner.solver.improvement.cooling import Cooling
from planner.solver.improvement.messages import Advance, receive, send

COOLING = Cooling(usual=1.0, length=1000)


def sent(message: object) -> bytes:
    pipe = BytesIO()
    send(pipe, message)
    return pipe.getvalue()


def test_a_message_arrives_as_it_was_sent() -> None:
    assert receive(BytesIO(sent(Advance(7, COOLING)))) == Advance(7, COOLING)


def test_a_message_cut_short_is_none() -> None:
    whole = sent(Advance(7, COOLING))
    assert [receive(BytesIO(whole[:length])) for length in (0, 3, 8, len(whole) - 1)] == [None] * 4
