"""Dimension lines in rows beside a view: each with its arrows, extension lines and label.

Habits of ISO 129-1 (from memory): fine lines, slim filled arrows, extension lines that stand off
the part and pass the dimension line a little, figures above the line, read from below or from the
right; where there is no room between the arrows they point inwards from outside.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stackview.drawings.label_room import LabelRoom
from stackview.drawings.paper import FINE_LINE, PLAIN_LETTERS, Paper, PaperBox, words_box, words_width

ROW_STEP = 7.0
"""From one row of dimension lines to the next [mm]."""
_GAP, _PAST, _ARROW, _ABOVE = 1.0, 1.5, 2.6, 0.9
_MOST_ROWS = 14
_SHARES = (0.5, 0.25, 0.75, 0.0, 1.0)
"""Where between the ends a label stands: in the middle, or off it where lines would cross it."""


@dataclass(frozen=True, slots=True)
class Measure:
    """A length between two places along a row, and what is written on it.

    ``feet`` say for each end where across the row the thing measured lies, so that its extension
    line begins there [mm on the paper].
    """

    low: float
    high: float
    feet: tuple[float, float]
    label: str


@dataclass(frozen=True, slots=True)
class Rows:
    """Rows that run level (or upright), the first at ``first``, the others each ``step`` farther [mm]."""

    level: bool
    first: float
    step: float

    @property
    def away(self) -> float:
        """Which way across the rows leads away from the part: 1 or -1."""
        return 1.0 if self.step > 0.0 else -1.0

    def place(self, along: float, across: float) -> tuple[float, float]:
        """A place on the paper from one along and across the row."""
        return (along, across) if self.level else (across, along)


def draw_measures(paper: Paper, room: LabelRoom, rows: Rows, measures: Sequence[Measure]) -> list[str]:
    """Draw measures, the shortest nearest to the part; returns the labels that found no room at all."""
    left: list[str] = []
    taken: dict[int, list[tuple[float, float]]] = {}
    waiting = sorted(measures, key=lambda one: (one.high - one.low, one.low))
    while waiting:
        measure = waiting.pop(0)
        ends = [end for other in waiting for end in (other.low, other.high)]
        found = _placed(room, rows, measure, ends, taken) or _placed(room, rows, measure, [], taken)
        if found is None:
            left.append(measure.label)
            continue
        row, line = found
        _draw(paper, room, measure, line)
        taken.setdefault(row, []).append(line.reach)
    return left


def _placed(
    room: LabelRoom,
    rows: Rows,
    measure: Measure,
    ends: Sequence[float],
    taken: dict[int, list[tuple[float, float]]],
) -> tuple[int, "_Line"] | None:
    """The first row and way that cover nothing; no extension line from ``ends`` may have to cross the label."""
    for row in range(_MOST_ROWS):
        for line in _candidates(rows, measure, rows.first + row * rows.step):
            low, high = (line.box[0], line.box[2]) if rows.level else (line.box[1], line.box[3])
            if (
                not any(low - 0.3 < end < high + 0.3 for end in ends)
                and all(_apart(line.reach, other) for other in taken.get(row, []))
                and room.is_free(line.box)
                and not any(room.crosses_label(each) for each in line.lines)
            ):
                return row, line
    return None


@dataclass(frozen=True, slots=True)
class _Line:
    """One way to draw a measure: its lines, the place of its label, and what of its row it takes."""

    lines: tuple[tuple[tuple[float, float], tuple[float, float]], ...]
    heads: tuple[tuple[tuple[float, float], tuple[float, float]], ...]
    """Tips of the arrows, and which way their bodies lie."""
    label: tuple[float, float]
    across: str
    turn: float
    box: PaperBox
    reach: tuple[float, float]


def _apart(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[1] + 1.0 < other[0] or other[1] + 1.0 < one[0]


def _candidates(rows: Rows, measure: Measure, across: float) -> Iterator[_Line]:
    """Ways to draw a measure in one row: label between its ends, level beside it, after and before it."""
    width = words_width(measure.label)
    low, high = measure.low, measure.high
    within = high - low >= 2.0 * _ARROW + 1.0
    tail = 0.0 if within else 2.0 * _ARROW
    first, last = low - tail, high + tail
    if within and high - low >= width + 2.5:
        for share in _SHARES:
            start = low + 1.25 + share * (high - low - width - 2.5)
            yield _line(rows, measure, across, (first, last), start)
    if not rows.level:
        # a short upright measure is read more easily with its label level
        yield _line(rows, measure, across, (first, last), None)
    yield _line(rows, measure, across, (first, last + 1.0 + width), last + 1.0)
    yield _line(rows, measure, across, (first - 1.0 - width, last), first - 1.0 - width)


def _line(
    rows: Rows, measure: Measure, across: float, ends: tuple[float, float], start: float | None
) -> _Line:
    """Draw from end to end of the row, with the label from ``start`` on, or level beside the line."""
    extensions = [
        (rows.place(end, foot + rows.away * _GAP), rows.place(end, across + rows.away * _PAST))
        for end, foot in zip((measure.low, measure.high), measure.feet, strict=True)
    ]
    within = measure.high - measure.low >= 2.0 * _ARROW + 1.0
    way = 1.0 if within else -1.0
    heads = tuple(
        (rows.place(end, across), rows.place(side * way, 0.0))
        for end, side in ((measure.low, 1.0), (measure.high, -1.0))
    )
    if start is None:
        middle = 0.5 * (measure.low + measure.high) - 0.5 * PLAIN_LETTERS
        label, turn = (across + rows.away * 1.5, middle), 0.0
        side = "left" if rows.away > 0.0 else "right"
    else:
        label = rows.place(start, across + (_ABOVE if rows.level else -_ABOVE))
        side, turn = "left", 0.0 if rows.level else 90.0
    box = words_box(label, measure.label, across=side, turn=turn)
    line = (rows.place(ends[0], across), rows.place(ends[1], across))
    return _Line((*extensions, line), heads, label, side, turn, box, ends)


def _draw(paper: Paper, room: LabelRoom, measure: Measure, line: _Line) -> None:
    paper.lines(FINE_LINE, line.lines)
    for each in line.lines:
        room.take_line(each)
    for tip, way in line.heads:
        arrow(paper, tip, way)
    room.take(paper.write(line.label, measure.label, across=line.across, turn=line.turn))


def arrow(paper: Paper, tip: tuple[float, float], way: tuple[float, float], long: float = _ARROW) -> None:
    """Fill an arrow head whose tip is at ``tip`` and whose body lies the (unit) ``way`` from there."""
    (x, y), (along, across) = tip, way
    wide = 0.16 * long
    back = (x + long * along, y + long * across)
    paper.fill(
        "#000000",
        [
            tip,
            (back[0] - wide * across, back[1] + wide * along),
            (back[0] + wide * across, back[1] - wide * along),
        ],
    )
