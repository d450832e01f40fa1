"""What a second process makes, or what stops it, reaches the first, and nothing is left of it."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable
from functools import partial
from typing import Any

import pytest

from coswim.second_process import CAN_PART, MOST_TOKENS, Places, SecondProcess
from coswim.text.problems import MOST_SHOWN, InputProblems, Problem

pytestmark = pytest.mark.skipif(not CAN_PART, reason="no process parts here")


def raising(error: BaseException) -> Callable[[], Any]:
    def make() -> Any:
        raise error

    return make


def is_there(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


def test_what_was_made_is_here_and_the_process_is_gone() -> None:
    second = SecondProcess(lambda: ("x" * 200_000, os.getpid()))
    text, process = second.made()
    assert (len(text), process != os.getpid(), is_there(process)) == (200_000, True, False)
    second.close()


def test_what_stops_it_is_raised_here() -> None:
    """A keeper's own profile may be wrong; the problems come over as they were, with their count."""
    wrong = InputProblems([Problem("fish.yaml", line, 1, "", "is wrong") for line in range(MOST_SHOWN + 5)])
    with pytest.raises(InputProblems) as raised:
        SecondProcess(raising(wrong)).made()
    assert (raised.value.problems, str(raised.value)) == (wrong.problems, str(wrong))


@pytest.mark.parametrize("make", [partial(os._exit, 1), raising(SystemExit(1)), lambda: lambda: None])
def test_one_that_ends_before_it_has_sent_anything_is_noticed(make: Callable[[], Any]) -> None:
    with pytest.raises(ChildProcessError, match="ended by the system"):
        SecondProcess(make).made()


def test_one_that_nobody_asks_is_ended() -> None:
    second = SecondProcess(partial(time.sleep, 600))
    process = second._process
    second.close()
    second.close()
    assert not is_there(process)


def test_an_interruption_is_no_business_of_it() -> None:
    def make() -> str:
        os.kill(os.getpid(), signal.SIGINT)
        return "done"

    assert SecondProcess(make).made() == "done"


@pytest.mark.parametrize("number", [0, 1, 7, MOST_TOKENS, MOST_TOKENS + 1, 10 * MOST_TOKENS - 1])
def test_every_place_is_taken_once(number: int) -> None:
    places = Places(number)
    second = SecondProcess(lambda: list(places))
    taken = list(places)
    assert sorted(taken + second.made()) == list(range(number))
    assert number == 0 or places.begun <= number
    places.close()
