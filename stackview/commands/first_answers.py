"""What the first screen tells, worked out in its order with work for every core: each answer is shown once it is there."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from typing import Any

from stackview.change.evening import is_spotty
from stackview.change.mend import Mend
from stackview.change.mends import Mending
from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.subject import found_by, run_checks
from stackview.commands.beside import Beside
from stackview.findings import Finding
from stackview.kept import is_kept, keep
from stackview.spots.eye_spots import EyeSpots, spots_by_rounds
from stackview.study import Study

Show = Callable[[], None]
"""Prints what is known by now; called here, never in another process."""


class FirstAnswers:
    """A study's answers, worked out one after another; whoever is free works on what comes next."""

    def __init__(self, study: Study, mending: Mending) -> None:
        self._study, self._mending = study, mending
        self._beside = Beside(study.at_once)
        self._made: Mapping[str, tuple[Finding, ...]] = {}
        self._rounds: Iterator[tuple[EyeSpots, ...]] = iter(())
        self._spots: tuple[EyeSpots, ...] | None = None

    def looked(self, show: Show, *, glows: bool) -> None:
        """Let the eyes look, and show what they see; beside it those checks are made that do not ask what shows."""

        def shown() -> None:
            show()
            if glows and not is_kept(self._study, "spots"):
                self._rounds = spots_by_rounds(
                    self._study.stack, self._study.light, self._study.sightlines.eyes, at_once=self._beside
                )

        checks = [check for check in ALL_CHECKS if not check.asks_sight]
        if is_kept(self._study, "checked"):
            shown()
            return
        works: list[Callable[[], Any]] = [*(partial(found_by, check, self._study) for check in checks), shown]
        found = self._study.at_once(works)[:-1]
        self._made = {check.name: each for check, each in zip(checks, found, strict=True)}

    def checked(self) -> None:
        """Make the other checks, beside the first look at plates that glow."""
        self._beside.together([lambda: self._check()], lambda: self._next_spots())

    def _check(self) -> None:
        if not is_kept(self._study, "checked"):
            keep(self._study, checked=run_checks(self._study, ALL_CHECKS, self._made))

    def helped(self, faults: Sequence[Finding], show: Show) -> None:
        """Show what helps; beside it what mends those faults is looked for, and the plates are looked at for good."""
        sought = [fault for fault in faults if self._mending.is_looked_for(fault)]
        works: list[Callable[[], Any]] = [*(partial(self._mending.proposed, fault) for fault in sought), show]
        leaving = not sought and self._spots is not None and any(map(is_spotty, self._spots))
        if leaving:
            # Nothing else fills the time in which one eye looks on alone; what evens the spots will ask for it.
            works.insert(0, partial(getattr, self._study, "light_leaving"))
        found, _ = self._beside.together(works, lambda: self._next_spots())
        if leaving:
            keep(self._study, light_leaving=found.pop(0))
        for fault, proposed in zip(sought, found[:-1], strict=True):
            self._mending.has_proposed(fault, proposed)
        if self._spots is not None:
            keep(self._study, spots=self._spots)

    def _next_spots(self) -> None:
        """What the eyes see of the plates, as well as is known by now."""
        self._spots = next(self._rounds, self._spots)

    def evened(self, own: EyeSpots, show: Show | None = None) -> Mend | None:
        """The sheet or finish that best evens out what an eye sees; ``show`` shows beside it what is not shown yet.

        Other changes and other eyes are left to ``stackview sight``: they take longer to try.
        """
        mends = self._mending.evening_by_sheets(own, self._beside)
        works = [] if show is None else [show]
        return self._beside.together(works, lambda: next(mends, None))[1]
