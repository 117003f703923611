"""Paper, ink and type of charts and drawings: one sheet in pixels, drawn with matplotlib's Agg canvas.

A sheet's lengths are pixels from its lower left corner. Everything is set explicitly, so that
neither a maker's own matplotlib settings nor anything drawn before can change a picture.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stackview.sight.bands import Kind
from stackview.stills.views import check_pixels

PAPER = "#ffffff"
INK = "#26282b"
QUIET = "#62676d"
"""Second words and ticks."""
FAINT = "#c9ccd0"
"""Guide lines and frames."""

# Vermilion and blue of Okabe and Ito's set for colour-blind readers ("Color Universal Design",
# 2008), a little darker so that they carry text on white; violet-grey stays apart by lightness.
KIND_COLOURS = {Kind.BARE: "#c4501a", Kind.GLAZED: "#1f77b0", Kind.VEILED: "#85799c"}

SMALLEST_CHART = (640, 480)
"""Least width and height at which text still finds room [px]."""

# A power of two, so that inches times this gives whole pixels without rounding.
_DOTS_PER_INCH = 128

Extent = tuple[float, float, float, float]
"""Left, lower, right, upper [px]."""


@dataclass(frozen=True, slots=True, eq=False)
class Sheet:
    """One picture being drawn; ``em`` is the size of its ordinary text [px]."""

    figure: Any
    axes: Any
    renderer: Any
    width: int
    height: int
    em: float
    images: list[tuple[NDArray[np.uint8], int, int]]
    """Images that lie on the paper, under everything drawn, each with its left and lower side [px]."""

    @property
    def hair(self) -> float:
        """Width of a thin line [px]."""
        return max(self.em / 14.0, 0.8)


def blank(size: tuple[int, int]) -> Sheet:
    """Make an empty sheet of exactly ``size`` (width, height) [px].

    Raises
    ------
    ValueError
        When it is smaller than :data:`SMALLEST_CHART`.
    OutputError
        When it is no width and height.
    """
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    check_pixels(size)
    width, height = size
    if width < SMALLEST_CHART[0] or height < SMALLEST_CHART[1]:
        raise ValueError(
            f"a chart needs at least {SMALLEST_CHART[0]} × {SMALLEST_CHART[1]} pixels, not {width} × {height}"
        )
    figure = Figure(figsize=(width / _DOTS_PER_INCH, height / _DOTS_PER_INCH), dpi=_DOTS_PER_INCH)
    figure.patch.set_visible(False)
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    axes.set_xlim(0, width)
    axes.set_ylim(0, height)
    axes.set_autoscale_on(False)
    em = max(15.5 * min(width / 1600.0, height / 1000.0), 10.5)
    return Sheet(figure, axes, canvas.get_renderer(), width, height, em, [])


def pixels(sheet: Sheet) -> NDArray[np.uint8]:
    """Draw the sheet: (h, w, 3)."""
    renderer = sheet.renderer
    renderer.clear()
    canvas = np.asarray(renderer.buffer_rgba())
    canvas[:] = (*(int(PAPER[at : at + 2], 16) for at in (1, 3, 5)), 255)
    for rgb, left, low in sheet.images:
        top = sheet.height - low - len(rgb)
        canvas[top : top + len(rgb), left : left + rgb.shape[1], :3] = rgb
    sheet.figure.draw(renderer)
    return np.array(canvas[..., :3])


@cache
def font_file(bold: bool) -> str:
    """Where the font lies that all pictures are written in."""
    import matplotlib

    return f"{matplotlib.get_data_path()}/fonts/ttf/DejaVuSans{'-Bold' if bold else ''}.ttf"


@cache
def _glyphs() -> frozenset[int]:
    from matplotlib.ft2font import FT2Font

    return frozenset(FT2Font(font_file(False)).get_charmap())


def printable(words: str) -> str:
    """Words on one line, with a white square for every sign that the font does not have.

    >>> printable("Moor  Drum 月")
    'Moor Drum □'
    """
    line = " ".join(words.split())
    return "".join(sign if ord(sign) in _glyphs() else "□" for sign in line)


def with_noun(number: int, one: str) -> str:
    """Write a number with its noun.

    >>> with_noun(1, "light point"), with_noun(3, "light point")
    ('1 light point', '3 light points')
    """
    return f"{number:,} {one if number == 1 else one + 's'}".replace(",", "\u2009")


def _font(sheet: Sheet, size: float, bold: bool) -> Any:
    from matplotlib.font_manager import FontProperties

    return FontProperties(fname=font_file(bold), size=size * sheet.em * 72.0 / _DOTS_PER_INCH)


def text_width(sheet: Sheet, words: str, size: float = 1.0, *, bold: bool = False) -> float:
    """Width of words written at ``size`` ems [px]."""
    measured = sheet.renderer.get_text_width_height_descent(printable(words), _font(sheet, size, bold), False)
    return float(measured[0])


def shortened(sheet: Sheet, words: str, width: float, size: float = 1.0, *, bold: bool = False) -> str:
    """Words that fit ``width`` [px], ended by an ellipsis where some had to go."""
    words = printable(words)
    if text_width(sheet, words, size, bold=bold) <= width:
        return words
    low, high = 0, len(words)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(sheet, words[:middle].rstrip() + "…", size, bold=bold) <= width:
            low = middle
        else:
            high = middle - 1
    return words[:low].rstrip() + "…"


def broken_lines(
    sheet: Sheet, words: str, width: float, size: float = 1.0, *, most: int = 3, bold: bool = False
) -> list[str]:
    """Words broken into at most ``most`` lines that fit ``width`` [px]; the last is cut where it must be."""
    lines: list[str] = []
    rest = printable(words).split(" ")
    while rest and len(lines) < most:
        count = len(rest)
        if len(lines) < most - 1:
            count = 1
            while (
                count < len(rest) and text_width(sheet, " ".join(rest[: count + 1]), size, bold=bold) <= width
            ):
                count += 1
        lines.append(shortened(sheet, " ".join(rest[:count]), width, size, bold=bold))
        rest = rest[count:]
    return lines


def write(
    sheet: Sheet,
    at: tuple[float, float],
    words: str,
    *,
    size: float = 1.0,
    colour: str = INK,
    across: str = "left",
    upright: str = "center_baseline",
    bold: bool = False,
    turn: float = 0.0,
) -> Any:
    """Write words at a place [px], never read as a formula; returns the text."""
    return sheet.axes.text(
        *at,
        printable(words),
        fontproperties=_font(sheet, size, bold),
        color=colour,
        horizontalalignment=across,
        verticalalignment=upright,
        rotation=turn,
        rotation_mode="anchor",
        parse_math=False,
        zorder=20,
    )


def head(sheet: Sheet, title: str, under: str) -> float:
    """Write a title and a quieter line under it; returns where the space below them begins [px]."""
    em = sheet.em
    room = sheet.width - 2.4 * em
    y = sheet.height - 0.9 * em
    for part in broken_lines(sheet, title, room, 1.45, most=2, bold=True):
        write(sheet, (1.2 * em, y - 1.2 * em), part, size=1.45, bold=True, upright="baseline")
        y -= 1.85 * em
    y -= 0.15 * em
    for part in broken_lines(sheet, under, room, 0.95):
        write(sheet, (1.2 * em, y - 0.95 * em), part, size=0.95, colour=QUIET, upright="baseline")
        y -= 1.35 * em
    return y


def draw_line(
    sheet: Sheet,
    places: Sequence[Sequence[tuple[float, float]]] | Sequence[NDArray[np.float64]],
    *,
    colour: str = INK,
    width: float = 1.0,
    dashes: tuple[float, ...] | None = None,
    within: Sequence[NDArray[np.float64]] | None = None,
    over: float = 5.0,
    opacity: float = 1.0,
) -> None:
    """Draw open lines through places [px], clipped to closed loops; ``width`` in hairs, dashes in ems."""
    from matplotlib.collections import LineCollection

    pixels_wide = width * sheet.hair * 72.0 / _DOTS_PER_INCH
    style: Any = (
        "solid" if dashes is None else (0, tuple(part * sheet.em / sheet.hair / width for part in dashes))
    )
    drawn = LineCollection(
        [np.asarray(one) for one in places],
        colors=colour,
        linewidths=pixels_wide,
        linestyles=style,
        capstyle="butt",
        joinstyle="round",
        zorder=over,
        alpha=opacity,
    )
    sheet.axes.add_collection(drawn, autolim=False)
    if within is not None:
        drawn.set_clip_path(_path(within), sheet.axes.transData)


def fill_area(
    sheet: Sheet,
    loops: Sequence[NDArray[np.float64]],
    fill: str | None,
    *,
    edge: str | None = None,
    width: float = 1.0,
    opacity: float = 1.0,
    over: float = 3.0,
) -> None:
    """Fill closed loops (k, 2) [px], hollows running the other way round; ``width`` in hairs."""
    from matplotlib.patches import PathPatch

    sheet.axes.add_patch(
        PathPatch(
            _path(loops),
            facecolor=fill if fill is not None else "none",
            edgecolor=edge if edge is not None else "none",
            linewidth=width * sheet.hair * 72.0 / _DOTS_PER_INCH if edge is not None else 0.0,
            joinstyle="round",
            alpha=opacity,
            zorder=over,
        )
    )


def box_loop(box: Extent) -> NDArray[np.float64]:
    """Corners (4, 2) of a box, counter-clockwise."""
    left, low, right, high = box
    return np.array([[left, low], [right, low], [right, high], [left, high]])


def disc(
    sheet: Sheet,
    at: tuple[float, float],
    radius: float,
    fill: str,
    *,
    edge: str | None = None,
    over: float = 8.0,
) -> None:
    """Draw a disc of ``radius`` [px]."""
    turn = np.linspace(0.0, 2.0 * np.pi, 33)[:-1]
    loop = np.array(at) + radius * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    fill_area(sheet, [loop], fill, edge=edge, over=over)


def image(sheet: Sheet, rgb: NDArray[np.uint8], left: int, low: int) -> None:
    """Put an image (h, w, 3), its first row on top, with its lower left corner on a whole pixel."""
    sheet.images.append((rgb, left, low))


def _path(loops: Sequence[NDArray[np.float64]]) -> Any:
    from matplotlib.path import Path

    corners = np.concatenate([np.vstack([loop, loop[:1]]) for loop in loops])
    codes = np.full(len(corners), Path.LINETO, dtype=Path.code_type)
    ends = np.cumsum([len(loop) + 1 for loop in loops])
    codes[ends - 1] = Path.CLOSEPOLY
    codes[np.concatenate([[0], ends[:-1]])] = Path.MOVETO
    return Path(corners, codes)
