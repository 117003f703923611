"""What the terminal says of spots on the acrylic: a sentence for each named eye."""

from collections.abc import Sequence

from rich.console import Console
from rich.text import Text

from stackview.change.evened import ratio_with_error
from stackview.change.mends import Mending
from stackview.checks.alike import briefly, together
from stackview.commands.summary import say
from stackview.glow.simplified import simplified
from stackview.glow.spot_words import IN_THE_DARK
from stackview.in_figures import figure
from stackview.spots.eye_spots import NOT_KNOWN, EyeSpots, PlateSpots
from stackview.spots.leaving import LightLeaving
from stackview.study import Study

_ORDER = ("single LEDs", "spots", "soft", "even", IN_THE_DARK)


def show_spots(screen: Console, study: Study) -> None:
    """Print how spotty the acrylic looks to each eye, below a heading."""
    lines = spots_lines(study)
    if lines:
        screen.print()
        screen.print(Text("Spots on the acrylic, as each eye sees them", style="bold"))
    for line in lines:
        say(screen, line, indent=2)
    for words in simplified(study.stack, study.light.points) if lines else ():
        say(screen, f"Simplified: {words}.", indent=2)


def show_evening(screen: Console, mending: Mending) -> None:
    """Print what would even out the spots that eyes see, worst first, each as it is found; nothing where none sees any."""
    study = mending.study
    spotty = mending.spotty() if glows(study) else ()
    if not spotty:
        return
    screen.print()
    screen.print(Text("What evens them out", style="bold"), Text("(each was tried on the lamp rebuilt)"))
    say(screen, "Brightest place over its surround, on the plate where that is most:", indent=2)
    told: dict[tuple[str, ...], None] = {}
    with study.progress("trying what evens spots out", len(spotty)) as step:
        for own in spotty:
            screen.file.flush()  # what is found is read while more is looked for
            none = True
            for mend in mending.evening(own):
                none = False
                if tuple(mend.changes) not in told:
                    told[tuple(mend.changes)] = None
                    say(screen, mend.text(study.lamp.units), indent=2, label=Text("Mend: ", style="bold"))
            if none:
                say(screen, f'"{own.eye.name}": of what was tried, nothing surely does.', indent=2)
            step(1)
    say(screen, _leaving(study.light_leaving), indent=2)


def _leaving(light: LightLeaving) -> str:
    """What leaves the lamp now, and what of its lumens is assumed."""
    lumens, given = (figure(number) for number in (light.lumens, light.given))
    assumed = "".join(f"; {words}" for words in light.assumed)
    return f"Of the {given} lm that its light points give, {lumens} lm leave the lamp now{assumed}."


def spots_lines(study: Study) -> list[str]:
    """A sentence for each eye, worst plates first; none for a lamp without acrylic, light or eyes."""
    return [eye_line(own) for own in study.spots] if glows(study) else []


def glows(study: Study) -> bool:
    """Whether there is acrylic, and light to be seen on it: not where all light points sit inside parts."""
    count = len(study.light.points)
    acrylic = any(part.is_layer and not part.opaque for part in study.stack.placed)
    return acrylic and sum(study.sightlines.buried.values()) < count


def eye_line(own: EyeSpots) -> str:
    """What one eye sees.

    The ratio is that of the worst plate of each word: its brightest place over the mean of what is round it.
    """
    name = f'"{own.eye.name}"'
    if not own.plates:
        return f"{name}: no acrylic in sight."
    told = sorted({plate.told for plate in own.plates}, key=_rank)
    parts = [_said(word, [plate for plate in own.plates if plate.told == word]) for word in told]
    return f"{name}: {'; '.join(parts)}."


def eye_brief(own: EyeSpots) -> str:
    """What one eye sees, with the one ratio that matters most."""
    if not own.plates:
        return f'"{own.eye.name}": no acrylic in sight.'
    told = sorted({plate.told for plate in own.plates}, key=_rank)
    parts = [
        f"{word} on {briefly([plate.layer for plate in own.plates if plate.told == word])}" for word in told
    ]
    worst = own.worst
    ratio = (
        f" ({worst.layer}: {ratio_with_error(worst)} times its surround)"
        if worst is not None and worst.told != "even"
        else ""
    )
    return f'"{own.eye.name}": {"; ".join(parts)}{ratio}.'


def _rank(told: str) -> tuple[int, bool]:
    plain = told.removeprefix("about ")
    return (_ORDER.index(plain) if plain in _ORDER else len(_ORDER)), told != plain


def _said(told: str, plates: Sequence[PlateSpots]) -> str:
    listed = together([plate.layer for plate in plates])
    if told == NOT_KNOWN:
        return f"{listed}: not known without `stackview glow`"
    if told.endswith(IN_THE_DARK):
        return f"{told} on {listed}"
    worst = max(plates, key=lambda plate: plate.ratio)
    most = " at most" if len(plates) > 1 else ""
    return f"{told} on {listed} (brightest place {ratio_with_error(worst)} times its surround{most})"
