"""The acrylic as the window's eye sees it: asked once the eye rests, told for where it stands, from a process beside."""

import signal
import time
from multiprocessing import Pipe
from multiprocessing.connection import Connection
from pathlib import Path
from threading import Thread

import numpy as np
import pytest

from stackview.description.lamp import Eye
from stackview.sight.bands import HIDDEN
from stackview.sight.eyes import Seen
from stackview.spots.eye_spots import seen_by_rounds
from stackview.study import Study
from stackview.window import onlooker
from stackview.window.onlooker import RESTED, Onlooker, PlatesHere, look_on

DRUM = Path(__file__).parents[2] / "demos" / "moor-drum.toml"


def seen_from(study: Study, distance: float, height: float) -> Seen:
    kind = np.full((len(study.light.points), 1), HIDDEN, np.int8)
    none = np.zeros(kind.shape, bool)
    return Seen(Eye("here", distance, height), 0.0, np.array([20.0]), kind, none, none.copy())


def test_the_latest_eye_is_answered_as_the_spots_have_it_and_an_older_one_is_not() -> None:
    study = Study.read(DRUM)
    ours, theirs = Pipe()
    other, seen = seen_from(study, 2000.0, 900.0), seen_from(study, 900.0, 820.0)
    ours.send(study)
    ours.send((1, other))
    ours.send((2, seen))
    worker = Thread(target=look_on, args=(theirs,))
    worker.start()
    number, plates, more = ours.recv()
    ours.close()
    worker.join()
    assert (number, more) == (2, True)
    first = next(seen_by_rounds(study.lit, seen.eye, 20.0, (8_192,))).plates
    assert plates == first
    assert plates


@pytest.mark.slow
def test_an_eye_that_rests_is_told_from_a_process_of_its_own_and_the_window_never_waits() -> None:
    study = Study.read(DRUM)
    beside = Onlooker(study)
    try:
        here = (20.0, 5.0, 900.0)
        assert not beside.stand(here, 0.0)
        assert not beside.stand(here, 0.5 * RESTED)
        assert not beside.stand((21.0, 5.0, 900.0), RESTED)
        assert beside.stand((21.0, 5.0, 900.0), 2.0 * RESTED + 0.01)
        begun = time.process_time()
        told: PlatesHere | None = beside.ask(seen_from(study, 900.0, 820.0))
        assert told is not None
        assert told.looking
        assert not beside.stand((21.0, 5.0, 900.0), 9.0)
        end = time.monotonic() + 120.0
        while told is None or told.looking:
            assert time.monotonic() < end
            time.sleep(0.05)
            told = beside.answer()
        assert time.process_time() - begun < 1.0
        assert told.where == (21.0, 5.0, 900.0)
        assert told.plates
        # Where it has died nothing is known, and nothing fails.
        beside._worker.kill()
        beside._worker.join()
        assert beside.stand((50.0, 5.0, 900.0), 20.0) is False
        assert beside.stand((50.0, 5.0, 900.0), 30.0)
        assert beside.ask(seen_from(study, 900.0, 820.0)) == PlatesHere(
            (50.0, 5.0, 900.0), None, looking=False
        )
        assert beside.answer() is None
    finally:
        beside.close()


def deaf(line: Connection) -> None:
    """Takes no notice of being asked to end, nor of the line's end."""
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    line.send("deaf")
    time.sleep(600.0)


@pytest.mark.slow
def test_a_process_that_does_not_end_by_itself_is_ended_with_the_window(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(onlooker, "_begin", deaf)
    beside = Onlooker(Study.read(DRUM))
    assert beside._line.poll(60.0)
    assert beside._line.recv() == "deaf"
    begun = time.monotonic()
    beside.close()
    assert time.monotonic() - begun >= onlooker._ENDING, "it was given its time"
    assert not beside._worker.is_alive()
