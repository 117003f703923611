"""The window's panels: readout, sliders, messages, help. Each is drawn as a picture (h, w, 4)."""

from stackview.drawings.chart_style import with_noun
from stackview.errors import StackviewError
from stackview.glow.spot_words import IN_THE_DARK
from stackview.in_figures import degrees, percent
from stackview.sight.bands import Kind
from stackview.sight.causes import Cause
from stackview.spots.eye_spots import NOT_KNOWN
from stackview.window.ink import FAULT_PAPER, PANEL_FAINT, PANEL_INK, PANEL_QUIET, WARM, Slip
from stackview.window.keys import KEYS
from stackview.window.layout import SLIDERS, WindowPlan
from stackview.window.onlooker import PlatesHere
from stackview.window.reading import KIND_NAMES, Readout
from stackview.window.state import ViewState

_WAYS = ("front", "front right", "right", "back right", "back", "back left", "left", "front left")
_MOST_CAUSES = 3
_MOST_PLATES = 3
"""Plates that are told one by one."""


def way(bearing: float) -> str:
    """A bearing in words.

    >>> way(0.0), way(50.0), way(350.0)
    ('front', 'front right', 'front')
    """
    return _WAYS[int((bearing % 360.0 + 22.5) // 45.0) % 8]


def readout(plan: WindowPlan, state: ViewState, found: Readout, name: str, total: int) -> Slip:
    """Where the eye is and how many light points of each class show from exactly there."""
    em, box = plan.em, plan.readout
    slip = Slip(box.width, box.height, em)
    left, right, y = 0.9 * em, box.width - 0.9 * em, 1.65 * em
    slip.write((left, y), slip.cut(name, right - left, 1.08, bold=True), size=1.08, bold=True)
    y += 1.55 * em
    where = f'eye "{found.eye}"' if found.eye else "from where you look"
    slip.write((left, y), slip.cut(where, right - left, 0.92), size=0.92, colour=PANEL_QUIET)
    rows = (
        ("bearing", f"{found.bearing:.1f}°  {way(found.bearing)}"),
        ("elevation", degrees(found.elevation)),
        ("distance", state.units.rough(found.distance)),
        ("eye height", state.units.rough(found.height)),
    )
    y += 0.25 * em
    for label, value in rows:
        y += 1.4 * em
        slip.write((left, y), label, size=0.92, colour=PANEL_QUIET)
        slip.write((right, y), value, anchor="rs")
    y += 0.8 * em
    slip.line([(left, y), (right, y)], PANEL_FAINT)
    y += 0.1 * em
    for kind, word in KIND_NAMES:
        y += 1.5 * em
        count = found.count(kind)
        slip.mark(kind, (left + 0.55 * em, y - 0.36 * em), 0.42 * em)
        strong = kind == Kind.BARE and count > 0
        slip.write(
            (left + 3.6 * em, y), str(count), anchor="rs", bold=True, colour=WARM if strong else PANEL_INK
        )
        slip.write((left + 4.2 * em, y), word, colour=WARM if strong else PANEL_INK)
    y += 1.5 * em
    note, colour = f"of {with_noun(total, 'light point')}", PANEL_QUIET
    if not found.whole:
        note, colour = f"of {total}, for the assembled lamp", WARM
    elif found.under:
        note, colour = "what it stands on is in the way", WARM
    slip.write((left, y), slip.cut(note, right - left, 0.88), size=0.88, colour=colour)
    return slip


def plates(plan: WindowPlan, found: PlatesHere) -> Slip:
    """How spotty the acrylic looks from here, the most spotty first."""
    em, width = plan.em, plan.readout.width
    own = sorted(
        found.plates or (),
        key=lambda plate: (plate.told == NOT_KNOWN, plate.word == IN_THE_DARK, -plate.ratio),
    )
    rows = [(plate.layer, plate.told) for plate in own[:_MOST_PLATES]]
    if len(own) > _MOST_PLATES:
        rows.append((f"and {len(own) - _MOST_PLATES} more", ""))
    if not rows:
        none = "not known" if found.plates is None else "looking …" if found.looking else "none in sight"
        rows.append((none, ""))
    slip = Slip(width, round((2.4 + 1.32 * len(rows)) * em), em)
    slip.write((0.9 * em, 1.5 * em), "Acrylic from here", size=0.95, bold=True)
    if found.looking and own:
        slip.write((width - 0.9 * em, 1.5 * em), "…", size=0.95, colour=PANEL_QUIET, anchor="rs")
    y = 1.6 * em
    for layer, told in rows:
        y += 1.32 * em
        warm = told.endswith(("spots", "single LEDs"))
        right = width - 0.9 * em
        slip.write((right, y), told, size=0.92, colour=WARM if warm else PANEL_INK, anchor="rs")
        room = right - slip.long(told, 0.92) - 1.5 * em
        slip.write((0.9 * em, y), slip.cut(layer, room, 0.92), size=0.92, colour=PANEL_QUIET)
    return slip


def growth(plan: WindowPlan, found: tuple[Cause, ...], bare: int) -> Slip:
    """Past which edges the bare points show from here."""
    em, width = plan.em, plan.readout.width
    probe = Slip(1, 1, em)
    room = width - 1.8 * em
    lines: list[tuple[str, bool]] = []
    if not bare:
        lines.append(("No light point is bare from here.", False))
    elif not found:
        lines.append(("No edge bounds what is bare from here.", False))
    for cause in found[:_MOST_CAUSES]:
        lines += [(text, True) for text in probe.folded(cause.edge, room, 0.92, most=2)]
        lines.append(
            (f"{with_noun(cause.points, 'point')} {'shows' if cause.points == 1 else 'show'} past it", False)
        )
    if len(found) > _MOST_CAUSES:
        lines.append((f"and {with_noun(len(found) - _MOST_CAUSES, 'more edge')}", False))
    slip = Slip(width, round((3.1 + 1.32 * len(lines)) * em), em)
    slip.write((0.9 * em, 1.6 * em), "What is bare here shows past", size=0.95, bold=True)
    y = 1.75 * em
    for text, strong in lines:
        y += 1.32 * em
        colour = PANEL_INK if strong else PANEL_QUIET
        slip.write((0.9 * em, y), text, size=0.92 if strong else 0.88, colour=colour)
    return slip


def sliders(plan: WindowPlan, state: ViewState) -> Slip:
    """Light, spread and cut, each with its key, its way and its value in words."""
    box = plan.sliders
    assert box is not None
    em = plan.em
    slip = Slip(box.width, box.height, em)
    words = {
        "light": ("L", state.light, _light_word(state.light)),
        "spread": ("A", state.spread, percent(state.spread) if state.spread else "none"),
        "cut": ("C", state.cut, percent(state.cut) if state.cut else "none"),
    }
    for name, track in zip(SLIDERS, plan.tracks, strict=True):
        _cap, share, value = words[name]
        middle = track.top - box.top + track.height / 2
        base = middle + 0.36 * em
        slip.write((0.9 * em, base), name, size=0.95)
        left, right = track.left - box.left, track.right - box.left
        slip.line([(left, middle), (right, middle)], PANEL_FAINT, 3)
        knob = left + share * (right - left)
        slip.line([(left, middle), (knob, middle)], WARM, 3)
        r = 0.45 * em
        slip.pen.ellipse(
            (knob - r, middle - r, knob + r, middle + r), fill=PANEL_INK, outline=(27, 29, 32, 255)
        )
        slip.write((box.width - 0.8 * em, base), value, size=0.88, colour=PANEL_QUIET, anchor="rs")
    return slip


def _light_word(light: float) -> str:
    if light < 0.25:
        return "day"
    return "studio" if light < 0.75 else "evening"


def hint(plan: WindowPlan) -> Slip:
    """A reminder of the key for help."""
    slip = Slip(plan.hint.width, plan.hint.height, plan.em)
    middle = (plan.hint.width / 2, plan.hint.height / 2 + 0.36 * plan.em)
    slip.write(middle, "H  help", size=0.95, anchor="ms")
    return slip


def message(plan: WindowPlan, words: str) -> Slip:
    """One thing said, near the window's foot."""
    em, room = plan.em, plan.notice.width
    probe = Slip(1, 1, em)
    lines = probe.folded(words, room - 2.0 * em, 0.95, most=4)
    width = round(max(probe.long(text, 0.95) for text in lines) + 2.0 * em)
    slip = Slip(min(width, room), round((1.1 + 1.35 * len(lines)) * em), em)
    for k, text in enumerate(lines):
        slip.write((slip.width / 2, (1.6 + 1.35 * k) * em), text, size=0.95, anchor="ms")
    return slip


def error(plan: WindowPlan, words: str) -> Slip:
    """What is wrong in the lamp's file, in full as far as there is room."""
    em, room = plan.em, plan.notice.width
    probe = Slip(1, 1, em)
    most = max(int(plan.notice.height / (1.32 * em)) - 5, 3)
    lines: list[str] = []
    for text in words.splitlines():
        lines += probe.folded(text, room - 3.6 * em, 0.92, most=6)
    if len(lines) > most:
        lines = [*lines[: most - 1], "… more in the terminal"]
    slip = Slip(room, round((3.3 + 1.32 * len(lines)) * em), em, FAULT_PAPER)
    slip.write((0.9 * em, 1.75 * em), "!", size=1.2, bold=True)
    title = "Fault in the file; still the lamp before it"
    slip.write((2.4 * em, 1.7 * em), slip.cut(title, room - 3.4 * em, 0.95, bold=True), size=0.95, bold=True)
    for k, text in enumerate(lines):
        slip.write((2.4 * em, (3.2 + 1.32 * k) * em), text, size=0.92)
    return slip


def help_sheet(plan: WindowPlan, eyes: tuple[str, ...]) -> Slip:
    """Every key and what it does, and what the mouse does."""
    em, box = plan.em, plan.help
    slip = Slip(box.width, box.height, em, (27, 29, 32, 242))
    rows = [(key.cap, key.does) for key in KEYS]
    rows += [(str(number), f'eye "{name}" at its worst bearing') for number, name in enumerate(eyes[:9], 1)]
    rows += [("drag", "turn the lamp"), ("wheel", "nearer or farther"), ("map", "click to look from there")]
    slip.write((1.4 * em, 2.2 * em), "Keys and mouse", size=1.15, bold=True)
    slip.write(
        (box.width - 1.4 * em, 2.2 * em), "H or Esc puts this away", size=0.9, colour=PANEL_QUIET, anchor="rs"
    )
    half = (len(rows) + 1) // 2
    step = min(1.75 * em, (box.height - 6.4 * em) / max(half, 1))
    column = (box.width - 2.4 * em) / 2
    for k, (cap, does) in enumerate(rows):
        x, y = 1.4 * em + column * (k // half), 4.2 * em + step * (k % half)
        slip.write((x, y), cap, bold=True, colour=WARM, size=0.95)
        slip.write((x + 3.9 * em, y), slip.cut(does, column - 4.5 * em, 0.92), size=0.92)
    foot = "Counts are for the assembled lamp, from exactly where you look."
    slip.write(
        (1.4 * em, box.height - 1.1 * em),
        slip.cut(foot, box.width - 2.8 * em, 0.88),
        size=0.88,
        colour=PANEL_QUIET,
    )
    return slip


def error_text(fault: StackviewError) -> str:
    """The message for the window: one line for each fault, without the file's path before it."""
    faults = getattr(fault, "faults", None)
    return "\n".join(str(one) for one in faults) if faults else str(fault)
