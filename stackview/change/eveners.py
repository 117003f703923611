"""What could even out spots on acrylic: changes of finish, sheet, pitch, distance and overhang, in the file's own keys.

None of them has been tried. Finishes and sheets come first: they ask for no new shape.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum

from stackview.change.handles import handles_of
from stackview.change.mend import NewNumber
from stackview.change.printed import Figures, Typed, steps_for
from stackview.description.field_path import spelt
from stackview.description.lamp import Layer
from stackview.description.lamp_file import LampFile
from stackview.description.light_source import Helix, Light, Panel, Ring, Runs, Strip
from stackview.description.material import Material
from stackview.errors import LampError
from stackview.findings import Way
from stackview.study import Study

_COARSE = 0.5
"""Roughness of acrylic that is sanded coarsely; from memory, to be measured with ``stackview finish``."""
_DENSE = 0.35
"""Transmission of a dense opal sheet; common practice, from memory."""
_DENSEST_STRIP = 240
"""Most light points on a metre of strip; common practice."""
_CONTINUOUS = 5.0
"""What a continuous strip counts as, from light point to light point [mm]."""
_AMOUNTS = (8.0, 4.0, 2.0)
"""How much wider or narrower on every side, the greatest first [mm]; heights go by twice that."""


class Means(Enum):
    """What is changed to even spots out."""

    FINISH = "finish"
    SHEET = "sheet"
    PITCH = "pitch"
    DISTANCE = "distance"
    OVERHANG = "overhang"


@dataclass(frozen=True, slots=True)
class Evener:
    """One change that could even spots out, by one amount or by several of them, the greatest first."""

    means: Means
    amounts: tuple[tuple[NewNumber, ...], ...]


@dataclass(frozen=True, slots=True)
class _Move:
    """A part's size or height, and whether it grows (+1) or shrinks (-1)."""

    part: str
    key: str
    towards: float


def of_sheets(study: Study, spotty: Iterable[str]) -> Iterator[Evener]:
    """Sanded for clear, opal for sanded or clear, denser for opal: what of the plates' material does not change shape."""
    assert study.file is not None
    layers = [layer for layer in study.lamp.layers if layer.name in set(spotty)]
    sanded = _joined(_sanded(study, study.file, layer) for layer in layers)
    if sanded:
        yield Evener(Means.FINISH, (sanded,))
    materials = {layer.material.name: layer.material for layer in layers if layer.material.is_acrylic}
    opal = _joined(_opal(study, study.file, each) for each in materials.values())
    if opal:
        yield Evener(Means.SHEET, (opal,))


def of_the_rest(study: Study, spotty: Iterable[str]) -> Iterator[Evener]:
    """A finer pitch, more distance from the light to the plates' edges, other overhangs, and coarser sanding."""
    names = set(spotty)
    layers = [layer for layer in study.lamp.layers if layer.name in names]
    for light in study.lamp.lights:
        yield from _finer(study, light)
    for means, moves in _shapes(study, layers):
        amounts = tuple(numbers for amount in _AMOUNTS if (numbers := _moved(study, moves, amount)))
        if amounts:
            yield Evener(means, amounts)
    coarser = _joined(
        _coarser(study, each) for each in {layer.material.name: layer for layer in layers}.values()
    )
    if coarser:
        yield Evener(Means.FINISH, (coarser,))


def _joined(several: Iterable[tuple[NewNumber, ...]]) -> tuple[NewNumber, ...]:
    """All that is typed together, each path once."""
    return tuple({number.path: number for numbers in several for number in numbers}.values())


# --- the plates' material ---


def _sanded(study: Study, file: LampFile, layer: Layer) -> tuple[NewNumber, ...]:
    """A plate of clear acrylic sanded on all faces, where its finish is written."""
    if layer.material.body != "clear" or all(layer.finish.sanded):
        return ()
    entry = f"{file.entry_of(layer.name)}.finish"
    own = _is_written(file, entry)
    path = entry if own else spelt(["materials", layer.material.name, "finish"])
    moved = tuple(
        each.name
        for each in study.lamp.layers
        if (file.entry_of(each.name) == file.entry_of(layer.name) if own else each.material is layer.material)
    )
    return (NewNumber(path, layer.finish.words or "clear", "sanded", "sanded", moved),)


def _opal(study: Study, file: LampFile, material: Material) -> tuple[NewNumber, ...]:
    """Opal for clear acrylic, a denser sheet for opal."""
    moved = _made_of(study, material)
    if material.body == "opal":
        now = material.optics.transmission
        path = spelt(["materials", material.name, "transmission"])
        return (_number(path, now, _DENSE, moved),) if now > _DENSE + 0.1 else ()
    numbers = [NewNumber(spelt(["materials", material.name, "acrylic"]), "clear", "opal", "opal", moved)]
    rough = spelt(["materials", material.name, "roughness"])
    if _is_written(file, rough):
        numbers.append(_left_out(rough, f"{material.optics.roughness:g}"))
    return tuple(numbers)


def _coarser(study: Study, layer: Layer) -> tuple[NewNumber, ...]:
    material = layer.material
    now = material.optics.roughness
    if material.body != "clear" or not any(layer.finish.sanded) or now > _COARSE - 0.1:
        return ()
    path = spelt(["materials", material.name, "roughness"])
    return (_number(path, now, _COARSE, _made_of(study, material)),)


def _made_of(study: Study, material: Material) -> tuple[str, ...]:
    return tuple(layer.name for layer in study.lamp.layers if layer.material.name == material.name)


# --- the light's pitch ---


def _finer(study: Study, light: Light) -> Iterator[Evener]:
    """More light points on the same length, each of them weaker, so that the power is the same."""
    assert study.file is not None
    top, layout = spelt(["light", light.name]), light.layout
    if layout.strip is not None:
        yield from _finer_strip(study.file, top, layout.strip)
    match layout:
        case Runs():
            yield _more(study.file, f"{top}.runs.count", layout.count, top, metres=True)
        case Helix():
            yield from _closer(study, top, layout)
        case Ring():
            yield _more(study.file, f"{top}.ring.count", layout.count, top)
        case Panel():
            yield _finer_panel(study, top, layout)
        case _:
            pass


def _finer_strip(file: LampFile, top: str, strip: Strip) -> Iterator[Evener]:
    if strip.continuous:
        return
    written = [key for key in ("leds_per_metre", "spacing", "face") if _is_written(file, f"{top}.{key}")]
    gone = tuple(_left_out(f"{top}.{key}", str(file.value(f"{top}.{key}"))) for key in written)
    if strip.spacing > _CONTINUOUS + 1e-6:
        on = NewNumber(f"{top}.continuous", "false", "true", True)
        yield Evener(Means.PITCH, ((on, *gone, *_weaker(file, top, _CONTINUOUS / strip.spacing)),))
    now = round(1000.0 / strip.spacing, 6)
    if "spacing" not in written and 2.0 * now <= _DENSEST_STRIP + 1e-6:
        denser = NewNumber(f"{top}.leds_per_metre", f"{now:g}", f"{2.0 * now:g}", _typed(2.0 * now))
        yield Evener(Means.PITCH, ((denser, *_weaker(file, top, 0.5)),))


def _more(file: LampFile, path: str, count: int, top: str, *, metres: bool = False) -> Evener:
    number = NewNumber(path, str(count), str(2 * count), 2 * count)
    return Evener(Means.PITCH, ((number, *_weaker(file, top, 0.5, metres=metres)),))


def _closer(study: Study, top: str, helix: Helix) -> Iterator[Evener]:
    """A helix wound twice as close; where its turns or its length are asked for, twice as many."""
    pitch = helix.pitch / 2.0
    if pitch < helix.strip.width + 1.0 or study.file is None:
        return
    numbers = [_length(study, f"{top}.helix.pitch", helix.pitch, pitch)]
    if helix.turns is not None:
        numbers.append(_number(f"{top}.helix.turns", helix.turns, 2.0 * helix.turns))
    elif helix.length is not None:
        numbers.append(_length(study, f"{top}.helix.length", helix.length, 2.0 * helix.length))
    yield Evener(Means.PITCH, ((*numbers, *_weaker(study.file, top, 0.5, metres=True)),))


def _finer_panel(study: Study, top: str, panel: Panel) -> Evener:
    assert study.file is not None
    numbers = [
        NewNumber(f"{top}.panel.{key}", str(now), str(2 * now), 2 * now)
        for key, now in (("columns", panel.columns), ("rows", panel.rows))
        if now > 1
    ]
    share = 0.5 ** len(numbers)
    numbers.append(_length(study, f"{top}.panel.spacing", panel.spacing, panel.spacing / 2.0))
    return Evener(Means.PITCH, ((*numbers, *_weaker(study.file, top, share)),))


def _weaker(file: LampFile, top: str, share: float, *, metres: bool = False) -> tuple[NewNumber, ...]:
    """What is written of one light point's power, or with ``metres`` of a metre's, by its share."""
    keys = ["watts", "milliamps", "lumens", *(("watts_per_metre", "lumens_per_metre") if metres else ())]
    found = []
    for key in keys:
        path = f"{top}.{key}"
        if _is_written(file, path):
            now = float(file.value(path))
            found.append(_number(path, now, now * share))
    return tuple(found)


# --- shapes ---


def _shapes(study: Study, plates: list[Layer]) -> Iterator[tuple[Means, tuple[_Move, ...]]]:
    """How light and plates move apart, and how more of a plate is covered; what is moved together each time."""
    names, frames = [plate.name for plate in plates], _frames(study, plates)
    holed = [plate.name for plate in plates if plate.openings]
    yield Means.DISTANCE, tuple(_Move(name, "size of opening 0", 1.0) for name in holed)
    if any(light.layout.strip is not None for light in study.lamp.lights):
        yield Means.DISTANCE, (_Move("core", "size of outline", -1.0),)
    if any(light.layout.strip is None for light in study.lamp.lights):
        yield Means.DISTANCE, tuple(_Move(frame.name, "thickness", 1.0) for frame in frames)
    ringed = [frame.name for frame in frames if frame.openings]
    yield Means.OVERHANG, tuple(_Move(name, "size of opening 0", -1.0) for name in ringed)
    yield Means.OVERHANG, tuple(_Move(frame.name, "size of outline", 1.0) for frame in frames)
    yield Means.OVERHANG, tuple(_Move(name, "size of outline", -1.0) for name in names)


def _frames(study: Study, plates: list[Layer]) -> list[Layer]:
    """The layers that lie next to plates and are no acrylic."""
    layers = study.lamp.layers
    names = {plate.name for plate in plates}
    return [
        layer
        for index, layer in enumerate(layers)
        if not layer.material.is_acrylic
        and any(near.name in names for near in layers[max(index - 1, 0) : index + 2])
    ]


def _moved(study: Study, moves: tuple[_Move, ...], amount: float) -> tuple[NewNumber, ...]:
    """The numbers to type so that all of it moves by an amount [mm]; none where one of it leads nowhere."""
    thick = {layer.name: layer.thickness for layer in study.lamp.layers}
    ways = []
    for move in moves:
        now, by = (thick[move.part], 2.0 * amount) if move.key == "thickness" else (0.0, amount)
        ways.append(Way(move.part, move.key, now, now + move.towards * by))
    return tuple(
        NewNumber(handle.path, handle.said, printed.text, printed.typed, handle.layers)
        for handle in handles_of(study, ways)
        for printed in (handle.at(1.0),)
    )


# --- what is typed ---


def _number(path: str, now: float, to: float, layers: tuple[str, ...] = ()) -> NewNumber:
    """A number that is no length, to its second figure."""
    steps = Figures.of(to)
    printed = steps.at(round(to / steps.step))
    return NewNumber(path, f"{now:g}", printed.text, printed.typed, layers)


def _length(study: Study, path: str, now: float, to: float) -> NewNumber:
    """A length, to the nearest step in which the file's own could be set."""
    file, units = study.file, study.lamp.units
    assert file is not None
    steps = steps_for(file.value(path) if _is_written(file, path) else 0.0, units)
    printed = steps.at(round(to / float(steps.step)))
    return NewNumber(path, units.show(now), printed.text, printed.typed)


def _left_out(path: str, old: str) -> NewNumber:
    return NewNumber(path, old, "left out", None)


def _typed(number: float) -> Typed:
    return int(number) if number == int(number) else number


def _is_written(file: LampFile, path: str) -> bool:
    try:
        return file.is_written(path)
    except LampError:
        return False
