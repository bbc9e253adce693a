"""Several people at the same moment: threads of their own, each with a connection of its own."""

import threading
from collections.abc import Callable, Sequence
from typing import Any

from django.db import connection


def at_once(works: Sequence[Callable[[], Any]]) -> list[Any]:
    """Begin all of them together; what each gave, or the exception that ended it."""
    gate, outcomes = threading.Barrier(len(works)), [None] * len(works)

    def run(number: int) -> None:
        gate.wait()
        try:
            outcomes[number] = works[number]()
        except Exception as fault:
            outcomes[number] = fault  # type: ignore[call-overload]
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=(number,)) for number in range(len(works))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return outcomes
