"""How spotty the acrylic looks from where the window's eye rests, followed in a process of its own.

The window never waits for it: it asks once the eye has rested, and takes what has come since. A thread would
not do, for rays are traced without letting go of the interpreter.
"""

import multiprocessing
import os
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stackview.errors import StackviewError
from stackview.sight.eyes import Seen

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

    from stackview.spots.eye_spots import PlateSpots
    from stackview.study import Study

RESTED = 0.2
"""The acrylic is looked at after the eye has stood still for this long [s]."""
_ENDING = 2.0
"""It is given so long to end by itself when the window is closed [s]."""
_ROUNDS = 8_192, 24_576, 65_536
"""Ways of light that are followed for one eye from round to round: few for a first word, then for surer ones."""

_ODD = (StackviewError, ArithmeticError, ValueError)
"""What an odd lamp, or an odd place to look from, may raise: it must not stop the next one."""

Where = tuple[float, float, float]
"""Bearing, elevation and distance of the window's eye."""


@dataclass(frozen=True, slots=True)
class PlatesHere:
    """The acrylic in sight from where the eye is.

    plates : that it sees, None where it cannot be told; looking : whether a better answer is to come
    """

    where: Where
    plates: "tuple[PlateSpots, ...] | None"
    looking: bool


class Onlooker:
    """Looks at the acrylic beside the window; ``study`` is what it looks at first."""

    def __init__(self, study: "Study") -> None:
        # Started afresh, not split off: the window's own threads and drawing are none of its business.
        context = multiprocessing.get_context("spawn")
        self._line, theirs = context.Pipe()
        self._worker = context.Process(target=_begin, args=(theirs,), daemon=True)
        self._worker.start()
        theirs.close()
        self._where: Where | None = None
        self._since = 0.0
        self._asked = False
        self._number = 0
        self.adopt(study)

    def adopt(self, study: "Study") -> None:
        """Look at another lamp from now on."""
        self._number += 1
        self._where = None
        self._tell(study)

    def stand(self, where: Where, now: float) -> bool:
        """The eye is there at a time [s]; returns whether it has rested, and nothing has been asked from there yet."""
        if where != self._where:
            self._where, self._since, self._asked = where, now, False
        return not self._asked and now - self._since >= RESTED

    def ask(self, seen: Seen) -> PlatesHere:
        """Begin to look from where the eye rests; what it said before is out of date."""
        assert self._where is not None
        self._asked = True
        self._number += 1
        reached = self._tell((self._number, seen))
        return PlatesHere(self._where, () if reached else None, looking=reached)

    def answer(self) -> PlatesHere | None:
        """What has been found from where the eye rests since the last call; None if nothing has."""
        found = None
        try:
            while self._line.poll():
                number, plates, more = self._line.recv()
                if number == self._number and self._where is not None:
                    found = PlatesHere(self._where, plates, more)
        except (EOFError, OSError):
            return found
        return found

    def close(self) -> None:
        """End it with the window."""
        self._line.close()
        self._worker.terminate()
        self._worker.join(_ENDING)
        # It may have missed the signal while rays were followed for it, or while its libraries were loading.
        if self._worker.is_alive():
            self._worker.kill()
            self._worker.join()

    def _tell(self, what: Any) -> bool:
        try:
            self._line.send(what)
        except OSError:  # it has died: nothing is known, and the window goes on
            return False
        return True


def _begin(line: "Connection") -> None:
    if hasattr(os, "nice"):
        os.nice(5)  # the window's frames come first
    look_on(line)


def look_on(line: "Connection") -> None:
    """Answer studies and eyes as they come, the latest first, until the line is closed."""
    study: Study | None = None
    try:
        while True:
            what = line.recv()
            if not isinstance(what, tuple):
                study = what
            elif not line.poll() and study is not None:
                _look(line, study, *what)
            if study is not None and not line.poll():
                _make_ready(study)
    except (EOFError, OSError, KeyboardInterrupt):
        return


def _look(line: "Connection", study: "Study", number: int, seen: Seen) -> None:
    """Answer one eye round after round, until it has gone elsewhere."""
    from stackview.spots.eye_spots import seen_by_rounds

    plates: tuple[PlateSpots, ...] | None = ()
    try:
        lit = study.lit if len(study.light.points) else None
        bearing = float(seen.bearings[seen.worst])
        for answer in seen_by_rounds(lit, seen.eye, bearing, _ROUNDS) if lit is not None else ():
            plates = answer.plates
            line.send((number, plates, True))
            if line.poll():
                break
    except _ODD:
        plates = None
    line.send((number, plates, False))


def _make_ready(study: "Study") -> None:
    """Build the lamp before an eye rests, which then is answered the sooner."""
    with suppress(*_ODD):
        _ = study.lit if len(study.light.points) else None
