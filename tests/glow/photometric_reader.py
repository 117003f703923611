"""A reader of ANSI/IES LM-63 files, written from the standard's order of fields alone."""

from dataclasses import dataclass

import numpy as np


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
        keywords.append((word, words.strip()))
    fields = iter(" ".join(lines[tilt + 1 :]).split())

    def whole() -> int:
        return int(next(fields))

    def real(count: int = 1) -> list[float]:
        return [float(next(fields)) for _ in range(count)]

    lamps, (lumens, multiplier) = whole(), real(2)
    vertical, horizontal, kind, units = whole(), whole(), whole(), whole()
    width, length, height = real(3)
    ballast, future, watts = real(3)
    gammas, planes = np.array(real(vertical)), np.array(real(horizontal))
    candela = np.array([real(vertical) for _ in range(horizontal)])
    assert next(fields, None) is None
    return ReadBack(
        version, tuple(keywords), lamps, lumens, multiplier, kind, units, (width, length, height),
        ballast, future, watts, gammas, planes, candela,
    )  # fmt: skip
