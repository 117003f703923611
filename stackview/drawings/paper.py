"""A sheet of paper to be printed: true millimetres from its lower left corner, drawn into a PDF.

Lines come in two widths and three patterns, as ISO 128 has them (from memory): broad for visible
edges and cuts, fine for all else; dashed for hidden edges, long-dash-dot for middle lines. Letters
are as tall as ISO 3098 has them (from memory): 1.8, 2.5, 3.5, 5 mm.
"""

import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats
from stackview.curves.arcs import Path, pieces_of
from stackview.drawings.chart_style import font_file, printable

POINT = 72.0 / 25.4
"""Points in a millimetre."""
_CAPITAL = 0.729
"""Height of a capital letter of DejaVu Sans, in ems (its OS/2 table)."""
_SLACK = 1.015
"""Printers and viewers set letters a little wider at times."""
SMALL_LETTERS, PLAIN_LETTERS, LARGE_LETTERS = 1.8, 2.5, 3.5
"""Heights of letters [mm]."""
_MOST_OF_A_BEZIER = np.radians(30.0)
"""An arc of one Bézier: at radius 100 mm and 30° it is off by 1e-5 mm."""


@dataclass(frozen=True, slots=True)
class PaperSize:
    """A sheet as printers take it, upright [mm]."""

    name: str
    width: float
    height: float


PAPERS = {
    "a4": PaperSize("A4", 210.0, 297.0),  # ISO 216
    "letter": PaperSize("letter", 215.9, 279.4),  # ANSI/ASME Y14.1, size A
}


@dataclass(frozen=True, slots=True)
class Pen:
    """Width [mm], colour and pattern (dash, gap, … [mm]) of a line."""

    width: float
    colour: str = "#000000"
    dashes: tuple[float, ...] = ()


BROAD_LINE = Pen(0.5)
MIDDLING = Pen(0.3)
FINE_LINE = Pen(0.18)
HATCH = Pen(0.13, "#555555")
HIDDEN_EDGE = Pen(0.25, "#000000", (2.2, 1.0))
MIDDLE_LINE = Pen(0.18, "#000000", (6.0, 1.0, 0.6, 1.0))
CUT_LINE = Pen(0.25, "#000000", (6.0, 1.0, 0.6, 1.0))

PaperBox = tuple[float, float, float, float]
"""Left, lower, right, upper [mm]."""


@dataclass(slots=True)
class Paper:
    """One page being drawn; its words keep their boxes, so that none need cover another."""

    size: PaperSize
    window: PaperBox | None = None
    """What clipped lines are seen in; None where nothing is clipped."""
    strokes: list[tuple[Pen, bool, NDArray[np.float64], list[int]]] = field(default_factory=list)
    filled: list[tuple[str, NDArray[np.float64]]] = field(default_factory=list)
    words: list[tuple[float, float, str, float, str, bool, float, str]] = field(default_factory=list)
    boxes: list[tuple[str, PaperBox]] = field(default_factory=list)
    """What is written where."""

    def lines(
        self, pen: Pen, places: Iterable[Sequence[tuple[float, float]] | Floats], *, clipped: bool = False
    ) -> None:
        """Draw open lines through places [mm]."""
        for one in places:
            points = np.asarray(one, dtype=np.float64)
            self.strokes.append((pen, clipped, points, [1] + [2] * (len(points) - 1)))

    def curve(
        self, pen: Pen, path: Path, scale: float, at: tuple[float, float], *, clipped: bool = False
    ) -> None:
        """Draw a closed curve with its own arcs, its origin standing at ``at``."""
        points, codes = _as_beziers(path)
        self.strokes.append((pen, clipped, points * scale + np.array(at), codes))

    def fill(self, colour: str, corners: Sequence[tuple[float, float]] | Floats) -> None:
        """Fill a polygon."""
        self.filled.append((colour, np.asarray(corners, dtype=np.float64)))

    def write(
        self,
        at: tuple[float, float],
        words: str,
        *,
        tall: float = PLAIN_LETTERS,
        across: str = "left",
        bold: bool = False,
        turn: float = 0.0,
        colour: str = "#000000",
    ) -> PaperBox:
        """Write words whose capitals are ``tall`` [mm], their foot at ``at``; returns their box."""
        text = printable(words)
        box = words_box(at, text, tall=tall, across=across, bold=bold, turn=turn)
        self.words.append((*at, text, tall, across, bold, turn, colour))
        self.boxes.append((text, box))
        return box

    def figure(self) -> Any:
        """The page as a figure of matplotlib."""
        from matplotlib.figure import Figure
        from matplotlib.patches import PathPatch, Polygon, Rectangle
        from matplotlib.transforms import Affine2D

        figure = Figure(figsize=(self.size.width / 25.4, self.size.height / 25.4))
        # no axes: the page itself counts in millimetres
        in_mm = Affine2D().scale(1.0 / 25.4) + figure.dpi_scale_trans
        for colour, corners in self.filled:
            figure.add_artist(
                Polygon(corners, closed=True, facecolor=colour, edgecolor="none", zorder=1, transform=in_mm)
            )
        for pen, clipped in dict.fromkeys((pen, clipped) for pen, clipped, _, _ in self.strokes):
            wide = pen.width * POINT
            dashes = (0, tuple(part / pen.width for part in pen.dashes)) if pen.dashes else "solid"
            own = [
                (points, codes) for one, cut, points, codes in self.strokes if (one, cut) == (pen, clipped)
            ]
            patch = PathPatch(
                _joined(own),
                fill=False,
                edgecolor=pen.colour,
                linewidth=wide,
                linestyle=dashes,
                capstyle="butt",
                joinstyle="miter",
                zorder=2,
                transform=in_mm,
            )
            figure.add_artist(patch)
            if clipped and self.window is not None:
                left, low, right, high = self.window
                patch.set_clip_path(Rectangle((left, low), right - left, high - low, transform=in_mm))
        for x, y, text, tall, across, bold, turn, colour in self.words:
            figure.text(
                x,
                y,
                text,
                fontproperties=_properties(bold, tall / _CAPITAL * POINT),
                color=colour,
                ha=across,
                va="baseline",
                rotation=turn,
                rotation_mode="anchor",
                parse_math=False,
                zorder=3,
                transform=in_mm,
            )
        return figure


@lru_cache(maxsize=64)
def _properties(bold: bool, size: float) -> Any:
    from matplotlib.font_manager import FontProperties

    return FontProperties(fname=font_file(bold), size=size)


@lru_cache(maxsize=2)
def _face(bold: bool) -> Any:
    from matplotlib.ft2font import FT2Font

    face = FT2Font(font_file(bold))
    face.set_size(100.0, 72.0)
    return face


@lru_cache(maxsize=4096)
def words_width(words: str, tall: float = PLAIN_LETTERS, bold: bool = False) -> float:
    """Width of words whose capitals are ``tall`` [mm]."""
    from matplotlib.ft2font import LoadFlags

    face = _face(bold)
    face.set_text(printable(words), 0.0, flags=LoadFlags.NO_HINTING)
    return float(face.get_width_height()[0] / 64.0 / 100.0 * tall / _CAPITAL * _SLACK)


def words_box(
    at: tuple[float, float],
    words: str,
    *,
    tall: float = PLAIN_LETTERS,
    across: str = "left",
    bold: bool = False,
    turn: float = 0.0,
) -> PaperBox:
    """The box that words take, written level or (``turn`` 90) upright, with what hangs below their foot."""
    width = words_width(words, tall, bold)
    start = {"left": 0.0, "center": -0.5 * width, "right": -width}[across]
    low, high = -0.35 * tall, 1.15 * tall
    x, y = at
    if turn:
        return x - high, y + start, x - low, y + start + width
    return x + start, y + low, x + start + width, y + high


def broken_words(words: str, width: float, tall: float = PLAIN_LETTERS) -> list[str]:
    """Words broken into lines that fit ``width`` [mm]; a word that is longer is cut in pieces.

    >>> broken_words("one two three four", 20.0)
    ['one two', 'three four']
    """
    lines: list[str] = []
    line = ""
    for word in printable(words).split(" "):
        while words_width(word, tall) > width:
            count = max(k for k in range(1, len(word) + 1) if k == 1 or words_width(word[:k], tall) <= width)
            lines += [line] if line else []
            lines.append(word[:count])
            word, line = word[count:], ""
        longer = f"{line} {word}" if line else word
        if words_width(longer, tall) <= width:
            line = longer
        else:
            lines.append(line)
            line = word
    return [*lines, line] if line else lines


def pdf_bytes(pages: Sequence[Paper], title: str) -> bytes:
    """All pages as one PDF, marked as ours."""
    from matplotlib import rc_context
    from matplotlib.backends.backend_pdf import PdfPages

    packed = io.BytesIO()
    told = {"Title": title, "Creator": PDF_CREATOR, "Producer": None, "CreationDate": None}
    # nothing of a maker's own matplotlib settings; letters as outlines of the font itself
    settings = {"pdf.fonttype": 3, "pdf.compression": 6, "path.simplify": False}
    with rc_context(settings), PdfPages(packed, metadata=told) as pdf:
        for page in pages:
            pdf.savefig(page.figure())
    return packed.getvalue()


PDF_CREATOR = "stackview drawings"
"""The mark of our PDF, in its information dictionary (ISO 32000-1, 14.3.3)."""


def _joined(parts: Sequence[tuple[NDArray[np.float64], list[int]]]) -> Any:
    from matplotlib.path import Path as Drawn

    return Drawn(
        np.concatenate([points for points, _ in parts]),
        np.concatenate([np.array(codes, dtype=Drawn.code_type) for _, codes in parts]),
    )


@lru_cache(maxsize=256)
def _as_beziers(path: Path) -> tuple[NDArray[np.float64], list[int]]:
    """Points and codes of matplotlib: arcs in pieces of at most 30°, by k = 4/3·tan(φ/4)."""
    p = pieces_of(path)
    points: list[NDArray[np.float64]] = [p.start[0]]
    codes = [1]
    for index in range(len(p)):
        if not p.arc[index]:
            points.append(p.end[index])
            codes.append(2)
            continue
        count = int(np.ceil(abs(p.sweep[index]) / _MOST_OF_A_BEZIER - 1e-9)) or 1
        step = p.sweep[index] / count
        arm = 4.0 / 3.0 * np.tan(0.25 * step)
        for k in range(count):
            a, b = p.first[index] + k * step, p.first[index] + (k + 1) * step
            ca, cb = np.array((np.cos(a), np.sin(a))), np.array((np.cos(b), np.sin(b)))
            ta, tb = np.array((-ca[1], ca[0])), np.array((-cb[1], cb[0]))
            centre, radius = p.centre[index], p.radius[index]
            points += [
                centre + radius * (ca + arm * ta),
                centre + radius * (cb - arm * tb),
                centre + radius * cb,
            ]
            codes += [4, 4, 4]
    points.append(p.start[0])
    codes.append(79)
    placed = np.array(points)
    placed.setflags(write=False)
    return placed, codes
