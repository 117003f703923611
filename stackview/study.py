"""The study of a lamp: everything known about it, each part worked out when first asked."""

from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import contextmanager
from functools import partial, wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, Concatenate, NoReturn, ParamSpec, Protocol, TypeVar, cast, overload

from stackview.at_once import AtOnce, one_by_one
from stackview.checks.limits import Limits, limits_for
from stackview.checks.subject import run_checks
from stackview.description.lamp import Eye, Lamp
from stackview.description.lamp_file import LampFile
from stackview.description.limits_table import Limit
from stackview.errors import LampError, StackviewError
from stackview.findings import Finding, Level, counted_by_level
from stackview.in_figures import figure
from stackview.kept import is_kept, keep, kept
from stackview.light.layout import LightLayout, lay_out
from stackview.notebook import html_table
from stackview.one_line import clipped, in_short
from stackview.sight.bands import Kind, check_bearings
from stackview.sight.eyes import Seen
from stackview.sight.eyes_amiss import eyes_amiss
from stackview.sight.record import cut_off_row, eye_row
from stackview.sight.room_side import RoomSide
from stackview.sight.summary import Progress, Sightlines, unseen
from stackview.stack.assembly import Mass, Stack, assemble, masses

if TYPE_CHECKING:
    from stackview.spots.eye_spots import EyeSpots
    from stackview.spots.leaving import LightLeaving
    from stackview.spots.lit_lamp import LitLamp

BEARINGS = 720
"""Bearings all round at which sightlines are worked out."""
_KNOWN = ("stack", "light", "sightlines", "eyes", "spots", "light_leaving", "findings", "masses")


P = ParamSpec("P")
Result = TypeVar("Result", covariant=True)


class OfStudy(Protocol[P, Result]):
    """A function of a study, as :func:`of_study` makes it."""

    @overload
    def __call__(self, study: "Study", /, *rest: P.args, **named: P.kwargs) -> Result: ...
    @overload
    def __call__(self, stack: Stack, light: LightLayout, /, *rest: P.args, **named: P.kwargs) -> Result: ...
    @overload
    def __call__(self, lines: Sightlines, stack: Stack, /, *rest: P.args, **named: P.kwargs) -> Result: ...


def of_study(function: Callable[Concatenate["Study", P], Result]) -> OfStudy[P, Result]:
    """Let a function of a study also take, in its place, stack and light, or sightlines and stack.

    The study is the way to call it; the others are for whoever made the parts without one.
    """

    @wraps(function)
    def taken(first: object, *rest: Any, **named: Any) -> Result:
        if isinstance(first, Stack) and rest and isinstance(rest[0], LightLayout):
            return function(Study.of(first, rest[0]), *rest[1:], **named)
        if isinstance(first, Sightlines) and rest and isinstance(rest[0], Stack):
            return function(Study.of(rest[0], lines=first), *rest[1:], **named)
        if not isinstance(first, Study):
            raise TypeError(f"{function.__name__} takes a Study first, not a value of {type(first).__name__}")
        return function(first, *rest, **named)

    return cast(OfStudy[P, Result], taken)


class Study:
    """Everything known about one lamp. Frozen; each part is worked out when first asked, and kept.

    Several threads may use one study. Where a part cannot be worked out it raises the same LampError
    each time, and what is known already stays. Sent to another process (pickled) it is its file, or its
    lamp. ``bearings`` is at how many bearings all round the sightlines are worked out; ``own_limits`` are
    the maker's own, which the lamp's come before; ``progress`` shows long work to whoever waits; ``at_once``
    may do several works at once (:func:`stackview.at_once.split_off`).

    >>> import stackview                                          # doctest: +SKIP
    >>> study = stackview.Study.read("demos/moor-drum.toml")      # doctest: +SKIP
    >>> study.sightlines.share_bare, len(study.findings)          # doctest: +SKIP
    """

    lamp: Lamp
    file: LampFile | None
    """The file that it comes from, if it comes from one."""
    source: str
    """Where the lamp comes from, as errors say it: its file, or else its name."""
    bearings: int
    own_limits: Mapping[str, Limit] | None
    limits: Limits
    """What the lamp is held against: the package's limits, the maker's own over them, the lamp's over both."""
    progress: Progress
    """Shows long work on this lamp; by default nothing does."""
    at_once: AtOnce
    """Does several works on this lamp at once; by default they are done one by one."""

    def __init__(
        self,
        lamp: Lamp | LampFile,
        *,
        bearings: int = BEARINGS,
        own_limits: Mapping[str, Limit] | None = None,
        progress: Progress = unseen,
        at_once: AtOnce = one_by_one,
    ) -> None:
        if not isinstance(lamp, Lamp | LampFile):
            raise TypeError(
                f"a study takes a Lamp or a LampFile, not a value of {type(lamp).__name__}; "
                "from a path, use Study.read(path)"
            )
        check_bearings(bearings)
        file = lamp if isinstance(lamp, LampFile) else None
        described = lamp.lamp() if isinstance(lamp, LampFile) else lamp
        keep(
            self,
            lamp=described,
            file=file,
            source=described.name if file is None else file.file,
            bearings=bearings,
            own_limits=own_limits,
            limits=limits_for(described, own_limits),
            progress=progress,
            at_once=at_once,
        )

    @classmethod
    def read(
        cls,
        path: str | Path,
        *,
        allow_outside: bool = False,
        bearings: int = BEARINGS,
        own_limits: Mapping[str, Limit] | None = None,
        progress: Progress = unseen,
        at_once: AtOnce = one_by_one,
    ) -> "Study":
        """Study the lamp of a file, which is read once, now.

        ``allow_outside`` lets curve files lie outside the lamp's folder. Raises LampError with all
        that is wrong in the file.
        """
        file = LampFile.read(path, allow_outside=allow_outside)
        return cls(file, bearings=bearings, own_limits=own_limits, progress=progress, at_once=at_once)

    @classmethod
    def of(cls, stack: Stack, light: LightLayout | None = None, lines: Sightlines | None = None) -> "Study":
        """Study a stack that has been assembled already, with its light and its sightlines if they are known."""
        study = cls(stack.lamp)
        known = {"stack": stack, "light": light, "sightlines": lines}
        keep(study, **{name: value for name, value in known.items() if value is not None})
        return study

    def changed(self, changes: Mapping[str, object]) -> "Study":
        """Study the same file with values changed by their paths; this study stays as it is.

        >>> study.changed({"layer.ring.wall": "0.7 in"})              # doctest: +SKIP

        Raises LampError for a path that leads nowhere and a value that the file's rules refuse,
        StackviewError where the lamp comes from no file.
        """
        if self.file is None:
            raise StackviewError(
                f"{self.source}: the lamp was not read from a file, so that no path leads to its values; "
                "study a LampFile, or use Study.read"
            )
        return Study(
            self.file.changed(changes),
            bearings=self.bearings,
            own_limits=self.own_limits,
            progress=self.progress,
            at_once=self.at_once,
        )

    @kept
    def stack(self) -> Stack:
        """Every part where it stands. Raises LampError for parts that cannot be made."""
        with self._named():
            return assemble(self.lamp)

    @kept
    def light(self) -> LightLayout:
        """Every light point in its place. Raises LampError for a light that does not fit what carries it."""
        with self._named():
            return lay_out(self.stack)

    @kept
    def sightlines(self) -> Sightlines:
        """What shows of the light points, from all directions and to each eye.

        Raises LampError for an eye inside the lamp, and one from which the surface hides all of it.
        """
        with self._named():
            faults = eyes_amiss(self.stack)
            if faults:
                raise LampError(self.lamp.name, faults)
        return Sightlines(self.stack, self.light.points, self.bearings, self.progress, self.at_once)

    @kept
    def eyes(self) -> tuple[Seen, ...]:
        """What each named eye sees from every bearing."""
        return self.sightlines.eyes

    @property
    def room(self) -> RoomSide:
        """From where in the room light points show: over every distance and height, from the worst bearing."""
        return self.sightlines.room

    @kept
    def findings(self) -> tuple[Finding, ...]:
        """What all checks have found that is to be decided or known, worst first."""
        return tuple(finding for finding in self.checked if finding.level > Level.FACT)

    @kept
    def facts(self) -> tuple[Finding, ...]:
        """What all checks have found that asks for nothing: heights, plays, amounts of glue."""
        return tuple(finding for finding in self.checked if finding.level == Level.FACT)

    @kept
    def checked(self) -> tuple[Finding, ...]:
        """Findings and facts together, as the checks give them."""
        from stackview.checks.all_checks import ALL_CHECKS

        return run_checks(self, ALL_CHECKS, progress=self.progress)

    @kept
    def spots(self) -> "tuple[EyeSpots, ...]":
        """How spotty the acrylic looks to each named eye, followed in seconds without the renderer."""
        from stackview.spots.eye_spots import ROUNDS, spots_by_rounds

        found: list[tuple[EyeSpots, ...]] = []
        with self.progress("light on the acrylic", ROUNDS) as step:
            for answer in spots_by_rounds(self.stack, self.light, self.sightlines.eyes, at_once=self.at_once):
                found.append(answer)
                step(1)
        return found[-1]

    @kept
    def lit(self) -> "LitLamp":
        """A lamp with light points made ready for following its light, kept for whoever looks at it next."""
        from stackview.spots.lit_lamp import lit_lamp

        return lit_lamp(self.stack, self.light)

    def spots_from(
        self, eye: Eye, bearing: float, *, layers: Collection[str] | None = None, ways: int | None = None
    ) -> "EyeSpots":
        """How spotty the acrylic looks to any eye from a bearing [°], in a second; of some ``layers`` alone, or of all.

        Less sure than :attr:`spots`, unless more ``ways`` are followed, and the same for the same place every time.
        """
        from stackview.spots.eye_spots import QUICK_WAYS, nothing_seen, spots_seen

        if not len(self.light.points):
            return nothing_seen(eye, bearing)
        return spots_seen(self.lit, eye, bearing, layers=layers, ways=QUICK_WAYS if ways is None else ways)

    @kept
    def light_leaving(self) -> "LightLeaving":
        """How much of its light leaves the lamp, followed without the renderer."""
        from stackview.spots.leaving import light_leaving

        return light_leaving(self.stack, self.light)

    @kept
    def masses(self) -> tuple[Mass, ...]:
        """Volume and mass of every part."""
        return masses(self.stack)

    def eyes_table(self) -> list[dict[str, Any]]:
        """A row for each eye: light points that show to it by kind, from its worst bearing, in the mean, in front."""
        return [eye_row(seen) for seen in self.eyes]

    def spots_table(self) -> list[dict[str, Any]]:
        """A row for each acrylic layer that a named eye sees: word, ratio with its error, luminance [cd/m²]."""
        return [{"eye": own.eye.name, **plate.record()} for own in self.spots for plate in own.plates]

    def cut_offs_table(self) -> list[dict[str, Any]]:
        """A row for each gap that shows bare points: where it begins and ends [°], and by which edges."""
        return [cut_off_row(gap) for gap in self.sightlines.cut_offs]

    def findings_table(self) -> list[dict[str, Any]]:
        """A row for each finding, worst first; the parts' own table is ``stack.table()``."""
        return [
            {**finding.record(), "parts": ", ".join(finding.parts), "places": len(finding.places)}
            for finding in self.findings
        ]

    @contextmanager
    def _named(self) -> Iterator[None]:
        """Errors name where the lamp comes from."""
        try:
            yield
        except LampError as error:
            raise LampError(self.source, error.faults) from None

    def __reduce__(self) -> tuple[Any, ...]:
        """Another process is sent its file or its lamp, and works it out anew; nobody watches there."""
        own = None if self.own_limits is None else dict(self.own_limits)
        return partial(Study, bearings=self.bearings, own_limits=own), (self.file or self.lamp,)

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"a study is frozen, so that its {name} cannot be set: make another study")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"a study is frozen, so that its {name} cannot be taken away")

    def _repr_html_(self) -> str:
        """What is known, for a notebook: nothing is worked out for it but where the parts and light points are."""
        return html_table(self.lamp.name, self._told())

    def _told(self) -> Iterator[tuple[str, str]]:
        try:
            stack, points = self.stack, len(self.light.points)
        except StackviewError as error:
            yield "cannot be built", clipped(str(error), 400)
            return
        yield "height", self.lamp.units.show(stack.height)
        yield "mass", f"{figure(stack.grams)} g without wiring"
        yield "light points", str(points)
        if is_kept(self, "sightlines") and is_kept(self.sightlines, "from_middles"):
            for seen in self.sightlines.from_middles:
                most = ", ".join(f"{seen.counts(kind).max(initial=0)} {kind.word}" for kind in Kind)
                yield f'eye "{seen.eye.name}"', f"at most {most}"
        if is_kept(self, "findings"):
            yield "findings", counted_by_level(self.findings)

    def __repr__(self) -> str:
        known = [name for name in _KNOWN if is_kept(self, name)]
        so_far = f"; known so far: {', '.join(known)}" if known else ""
        return f"Study of {in_short(self.lamp.name)}, {len(self.lamp.layers)} layers{so_far}"
