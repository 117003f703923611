"""A reader of ANSI/IES LM-63 files, written from the standard alone (LM-63-2002, sections 4 to 6; from memory).

It knows nothing of ours, and refuses what the standard does: keywords in their order, TILT, counts,
angles that rise and end where they may, numbers that are none, lines that are too long.
"""

import re
from dataclasses import dataclass

import numpy as np

NEEDED = ("TEST", "TESTLAB", "ISSUEDATE", "MANUFAC")
"""Keywords without which a file of 2002 is none."""
KNOWN = (
    *NEEDED, "LUMCAT", "LUMINAIRE", "LAMPCAT", "LAMP", "BALLASTCAT", "BALLAST", "MAINTCAT", "DISTRIBUTION",
    "FLASHAREA", "COLORCONSTANT", "LAMPPOSITION", "NEARFIELD", "FILEGENINFO", "SEARCH", "OTHER", "MORE",
)  # fmt: skip
"""Keywords of the standard; any other has to begin with an underscore."""
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?\Z")


@dataclass(frozen=True)
class ReadBack:
    version: str
    keywords: tuple[tuple[str, str], ...]
    lamps: int
    lumens_per_lamp: float
    multiplier: float
    kind: int
    units: int
    size: tuple[float, float, float]
    ballast: float
    future: float
    watts: float
    gammas: np.ndarray
    planes: np.ndarray
    candela: np.ndarray

    def words(self, keyword: str) -> str:
        return " ".join(text for word, text in self.keywords if word == keyword)

    @property
    def lumens(self) -> float:
        """Flux by another rule than ours: the mid-angle of each zone times its exact solid angle."""
        if len(self.planes) == 1:
            mean = self.candela[0]
        else:
            assert self.planes[0] == 0.0
            assert self.planes[-1] == 360.0
            steps = np.diff(self.planes)[:, None]
            mean = ((self.candela[1:] + self.candela[:-1]) / 2 * steps).sum(axis=0) / 360.0
        zone = 2 * np.pi * -np.diff(np.cos(np.radians(self.gammas)))
        return float((zone * (mean[1:] + mean[:-1]) / 2).sum()) * self.multiplier


def read(text: str) -> ReadBack:
    text.encode("ascii")
    assert text.endswith("\r\n")
    assert text.count("\n") == text.count("\r") == text.count("\r\n")
    lines = text.split("\r\n")
    assert max(map(len, lines)) <= 80
    version = lines[0]
    tilt = next(number for number, line in enumerate(lines) if line.startswith("TILT="))
    assert lines[tilt] == "TILT=NONE"
    keywords = []
    for line in lines[1:tilt]:
        assert line.startswith("[")
        word, words = line[1:].split("]", 1)
        assert word in KNOWN or word.startswith("_"), word
        assert word != "MORE" or keywords, "nothing that it could continue"
        keywords.append((word, words.strip()))
    there = [word for word, _ in keywords]
    assert set(NEEDED) <= set(there)
    assert all(there.count(word) == 1 for word in NEEDED)
    fields = iter(" ".join(lines[tilt + 1 :]).split())

    def whole() -> int:
        return int(next(fields))

    def real(count: int = 1) -> list[float]:
        found = [next(fields) for _ in range(count)]
        assert all(_NUMBER.match(each) for each in found), found
        return [float(each) for each in found]

    lamps, (lumens, multiplier) = whole(), real(2)
    vertical, horizontal, kind, units = whole(), whole(), whole(), whole()
    width, length, height = real(3)
    ballast, future, watts = real(3)
    gammas, planes = np.array(real(vertical)), np.array(real(horizontal))
    candela = np.array([real(vertical) for _ in range(horizontal)])
    assert next(fields, None) is None
    check(lamps, multiplier, (kind, units), (gammas, planes), candela)
    return ReadBack(
        version, tuple(keywords), lamps, lumens, multiplier, kind, units, (width, length, height),
        ballast, future, watts, gammas, planes, candela,
    )  # fmt: skip


def check(
    lamps: int,
    multiplier: float,
    codes: tuple[int, int],
    angles: tuple[np.ndarray, np.ndarray],
    candela: np.ndarray,
) -> None:
    """What the standard allows: counts, codes, and where angles begin and end (type C)."""
    kind, units = codes
    gammas, planes = angles
    assert lamps >= 1
    assert multiplier > 0.0
    assert kind in (1, 2, 3)
    assert units in (1, 2)
    assert (np.diff(gammas) > 0.0).all(), "vertical angles must rise"
    assert (np.diff(planes) > 0.0).all(), "horizontal angles must rise"
    assert gammas[0] in (0.0, 90.0)
    assert gammas[-1] in (90.0, 180.0)
    assert planes[0] == 0.0
    assert planes[-1] in (0.0, 90.0, 180.0, 360.0)
    assert (candela >= 0.0).all()
    if planes[-1] == 360.0:
        assert np.array_equal(candela[0], candela[-1]), "the plane at 360° is that at 0°"
