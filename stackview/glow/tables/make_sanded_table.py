"""Makes ``sanded.npz``: by what sanded faces are brightened so that they keep all light, from both sides.

Run it with ``python -m stackview.glow.tables.make_sanded_table``; it needs no renderer, and takes about five
minutes of one slow core.

One scattering off GGX micro-facets with separate shadowing (Walter et al. 2007, eqs. 20 to 34), as the renderer
has it, loses what strikes facets again. Its reflection is multiplied by r(μi)·r(μo), what it passes by
τ(μi)·τ'(μo), factors of the cosines on each side of the face; being symmetrical they keep reciprocity. They are
such that from every angle as much is reflected and passed as by walks with all bounces (``microsurface``): a
balance of rows and columns (R. Sinkhorn, P. Knopp, Pacific J. Math. 21(2), 1967).
"""

import sys
from pathlib import Path

import numpy as np

from stackview.arrays import Floats, Singles
from stackview.glow.microsurface import facet_in_sight, reflected_share, smith, walked
from stackview.sight.refraction import INDEX, dot

_ROUGHNESS = (0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6)
NODES = 64
"""Cosines that the factors are told at, even in their square root: grazing light needs them dense."""
_BALANCES = 60
"""More would only follow what is left of chance."""
_EACH = 32_768
_NOTHING = 1e-3
"""Where hardly anything is to be passed, there is nothing to be brightened."""


def node_cosines() -> Floats:
    """The cosines μ (NODES,), 0 to 1."""
    return np.linspace(0.0, 1.0, NODES) ** 2


def walk_reflects(alpha: float, inside: bool, samples: int, seed: int = 1) -> Floats:
    """Share that walks with all bounces reflect, by cosine (NODES,)."""
    chance = np.random.default_rng([seed, int(inside), round(1e4 * alpha)])
    found = np.zeros(NODES)
    for _ in range(max(samples // _EACH, 1)):
        for node, cosine in enumerate(_cosines()):
            travel = -_along(cosine, _EACH) if not inside else _along(cosine, _EACH)
            end = walked(travel, np.full(_EACH, inside), np.full(_EACH, alpha, np.float32), chance)
            found[node] += float((end.inside == inside).mean())
    return found / max(samples // _EACH, 1)


def one_scattering(alpha: float, inside: bool, samples: int, seed: int = 2) -> tuple[Floats, Floats]:
    """What one scattering sends from each cosine to each, reflected and passed (NODES, NODES); rows sum to shares."""
    chance = np.random.default_rng([seed, int(inside), round(1e4 * alpha)])
    reflects, passes = np.zeros((NODES, NODES)), np.zeros((NODES, NODES))
    ratio = np.float32(INDEX if inside else 1.0 / INDEX)
    rounds = max(samples // _EACH, 1)
    for _ in range(rounds):
        for node, cosine in enumerate(_cosines()):
            seen, rough = _along(cosine, _EACH), np.full(_EACH, alpha, np.float32)
            facet = facet_in_sight(seen, rough, chance)
            onto = np.maximum(dot(seen, facet), 0.0)
            share, through = reflected_share(onto, np.full(_EACH, ratio))
            back = (2.0 * onto * facet - seen)[2]
            # Turned over with the face, as in ``microsurface``: what passes rises on the far side.
            on = (ratio * seen - (ratio * onto - through) * facet)[2]
            for up, weight, into in ((back, share, reflects), (on, 1.0 - share, passes)):
                held = np.clip(up, 1e-6, 1.0)
                _gather(into[node], held, np.where(up > 0.0, weight * smith(held, rough), 0.0))
    return reflects / rounds / _EACH, passes / rounds / _EACH


def balanced(reflects: Floats, one: tuple[Floats, Floats], other: tuple[Floats, Floats]) -> Floats:
    """Factors (4, NODES): r and τ outside, r and τ inside.

    reflects : (2, NODES) what is to be reflected, from outside and inside; one, other : reflected and passed by
    one scattering from outside and from inside.
    """
    passes = 1.0 - reflects
    r, t = np.ones((2, NODES)), np.ones((2, NODES))
    for _ in range(_BALANCES):
        t[0] = (passes[0] + _NOTHING) / (one[1] @ t[1] + _NOTHING)
        t[1] = (passes[1] + _NOTHING) / (other[1] @ t[0] + _NOTHING)
        # Only the product of both is known: straight through, the two are alike.
        alike = np.sqrt(t[0, -1] / t[1, -1])
        t = t / np.array([[alike], [1.0 / alike]])
        for side, share in enumerate((one[0], other[0])):
            r[side] = np.sqrt(r[side] * (reflects[side] + _NOTHING) / (share @ r[side] + _NOTHING))
    return np.stack([r[0], t[0], r[1], t[1]])


def _cosines() -> Floats:
    # Level light meets no face at all.
    return np.maximum(node_cosines(), 1e-4)


def _along(cosine: float, count: int) -> Singles:
    way = np.array([np.sqrt(1.0 - cosine * cosine), 0.0, cosine], np.float32)
    return np.repeat(way[:, None], count, axis=1)


def _gather(row: Floats, cosine: Singles, weight: Singles) -> None:
    """Add weights to the two nodes about each cosine, as a straight line between them reads them."""
    at = np.sqrt(cosine.astype(np.float64)) * (NODES - 1)
    low = np.minimum(at.astype(np.int64), NODES - 2)
    row += np.bincount(low, weight * (1.0 - (at - low)), NODES)
    row += np.bincount(low + 1, weight * (at - low), NODES)


def factors(alpha: float, samples: int) -> tuple[Floats, float]:
    """The factors (4, NODES) of one roughness, and by how much they miss what is to be reflected or passed (rms)."""
    reflects = np.stack([walk_reflects(alpha, side, samples) for side in (False, True)])
    one, other = (one_scattering(alpha, side, samples) for side in (False, True))
    found = balanced(reflects, one, other)
    got = np.stack([found[0] * (one[0] @ found[0]), found[1] * (one[1] @ found[3]),
                    found[2] * (other[0] @ found[2]), found[3] * (other[1] @ found[1])])  # fmt: skip
    wanted = np.stack([reflects[0], 1.0 - reflects[0], reflects[1], 1.0 - reflects[1]])
    return found, float(np.sqrt(((got - wanted)[:, 4:] ** 2).mean()))


def make_sanded_table(samples: int = 262_144) -> None:
    """Balance every roughness and write the table beside this file."""
    rows = []
    for alpha in _ROUGHNESS:
        found, missed = factors(alpha, samples)
        rows.append(found)
        sys.stderr.write(f"{alpha:g}: rms {missed:.4f}, {found.min():.3f} to {found.max():.3f}\n")
    np.savez_compressed(
        Path(__file__).with_name("sanded.npz"),
        roughness=np.array(_ROUGHNESS),
        factors=np.array(rows, np.float32),
        samples=np.array([samples]),
    )


if __name__ == "__main__":
    make_sanded_table(*map(int, sys.argv[1:2]))
