"""Makes ``sanded.npz``: what light does at a sanded face after its first micro-facet, from both sides.

Run it with ``python -m stackview.glow.tables.make_sanded_table``; it needs no renderer, and takes about ten
minutes of one slow core.

One scattering off GGX micro-facets is known in closed form (Walter et al. 2007, eqs. 20 to 34; shadowing by heights,
Heitz et al. 2016, eqs. 17 and 40). What it lacks of walks with all bounces (``microsurface``) left after two facets or
more. Light that then comes back is told by the lobe of a wider, wholly reflecting face with factors k(μi)·k(μo), such
that as much comes back from every angle (a balance of rows and columns: R. Sinkhorn, P. Knopp, Pacific J. Math. 21(2),
1967) and as far along the face on the mean. Light that then passes is told by b(μi)·b'(μo)·μo/π: the factors follow
from the shares (C. Kulla, A. Conty, "Revisiting physically based shading", SIGGRAPH courses 2017, did so for light
thrown back). Factors alike at both ends keep reciprocity.
"""

import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from stackview.arrays import Floats, Singles
from stackview.glow.microsurface import facet_in_sight, reflected_share, smith, walked
from stackview.sight.refraction import INDEX, dot

_ROUGHNESS = (0.02, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6)
NODES = 64
"""Cosines that the curves are told at, even in their square root: grazing light needs them dense."""
_BALANCES = 200
"""More would only follow what is left of chance."""
_EACH = 32_768
_FINER = 4
"""So many places between two nodes a lobe is added up at: straight on it is narrower than they stand apart."""
_TURNS = 64
"""Directions round the normal that a lobe is added up over, half a turn of them."""
_WIDE = (0.1, 1.0)
"""Within these the lobe's roughness is looked for."""
_NOTHING = 1e-6
"""Shares below it are none."""


@dataclass(frozen=True, slots=True, eq=False)
class Leaves:
    """Light that leaves a face, by the cosine that it came at.

    back, on : (NODES,) shares that come back and pass
    along : (NODES,) how far along the face what comes back travels, share times sine
    """

    back: Floats
    on: Floats
    along: Floats


def node_cosines() -> Floats:
    """The cosines μ (NODES,), 0 to 1."""
    return np.linspace(0.0, 1.0, NODES) ** 2


def node_weights() -> Floats:
    """Weights (NODES,) of ∫ … dμ over the nodes: straight lines over √μ, dμ = 2√μ d√μ."""
    root = np.linspace(0.0, 1.0, NODES)
    step = np.full(NODES, 1.0 / (NODES - 1))
    step[[0, -1]] /= 2.0
    return np.asarray(2.0 * root * step, np.float64)


def all_bounces(alpha: float, inside: bool, samples: int, seed: int = 1) -> Leaves:
    """What walks over the micro-facets tell."""
    chance = np.random.default_rng([seed, int(inside), round(1e4 * alpha)])
    rough = np.full(_EACH, alpha, np.float32)
    found = np.zeros((3, NODES))
    rounds = max(samples // _EACH, 1)
    for _ in range(rounds):
        for node, cosine in enumerate(_cosines()):
            travel = _to(cosine, _EACH) * np.float32(1.0 if inside else -1.0)
            end = walked(travel, np.full(_EACH, inside), rough, chance)
            back = end.inside == inside
            ahead = end.leaves[0] * np.sign(travel[0, 0])
            found[:, node] += back.mean(), 1.0 - back.mean(), np.where(back, ahead, 0.0).mean()
    return Leaves(*(found / rounds))


def one_scattering(alpha: float, inside: bool, samples: int, seed: int = 2) -> Leaves:
    """What leaves after its first facet.

    A facet drawn in sight of the light lies as deep as it is shaded; from there light gets out, thrown back with
    (1 + Λi)/(1 + Λi + Λo), passed with (1 + Λi)·B(1 + Λi, 1 + Λo) (Heitz et al. 2016, eqs. 17 and 40; drawn here
    as its height is).
    """
    chance = np.random.default_rng([seed, int(inside), round(1e4 * alpha)])
    rough = np.full(_EACH, alpha, np.float32)
    found = np.zeros((3, NODES))
    ratio = np.float32(INDEX if inside else 1.0 / INDEX)
    rounds = max(samples // _EACH, 1)
    for _ in range(rounds):
        for node, cosine in enumerate(_cosines()):
            seen = _to(cosine, _EACH)
            facet = facet_in_sight(seen, rough, chance)
            onto = np.maximum(dot(seen, facet), 0.0)
            share, through = reflected_share(onto, np.full(_EACH, ratio))
            back = 2.0 * onto * facet - seen
            # Turned over with the face, as in ``microsurface``: what passes rises on the far side.
            on = ratio * seen - (ratio * onto - through) * facet
            # The share of heights above the facet, C, has the density (1 + Λi)·C^Λi.
            depth = chance.random(_EACH) ** smith(seen[2], rough).astype(np.float64)
            gets_back = share * np.where(back[2] > 0.0, depth ** _shaded(back[2], rough), 0.0)
            gets_on = (1.0 - share) * np.where(on[2] > 0.0, (1.0 - depth) ** _shaded(on[2], rough), 0.0)
            found[:, node] += gets_back.mean(), gets_on.mean(), -(gets_back * back[0]).mean()
    return Leaves(*(found / rounds))


def lobe(alpha: float) -> tuple[Floats, Floats]:
    """A wholly reflecting face of GGX width ``alpha``, from each cosine to about each (NODES, NODES).

    Returns how much it throws there, summed with straight lines between nodes, and how far along the face that travels.
    """
    fine = np.linspace(0.0, 1.0, (NODES - 1) * _FINER + 1)
    # Grazing light is thrown closely round its own plane: turns stand denser there, φ = π·s².
    spaced = (np.arange(_TURNS) + 0.5) / _TURNS
    turn, turned = np.pi * spaced**2, 4.0 * np.pi * spaced / _TURNS
    arrives, leaves = _cosines()[:, None, None], np.maximum(fine**2, 1e-8)[None, :, None]
    far = np.sqrt(1.0 - leaves**2)
    half_x = np.sqrt(1.0 - arrives**2) - far * np.cos(turn)
    half = np.stack(np.broadcast_arrays(half_x, far * np.sin(turn), arrives + leaves))
    rise = half[2] ** 2 / (half**2).sum(axis=0)
    square = alpha * alpha
    bell = square / (np.pi * (rise * (square - 1.0) + 1.0) ** 2)
    # G₁(μi)/μi, which stays finite at grazing light.
    shaded = 2.0 / (arrives + np.sqrt(arrives**2 + square * (1.0 - arrives**2)))
    unshaded = 2.0 * leaves / (leaves + np.sqrt(leaves**2 + square * (1.0 - leaves**2)))
    thrown = bell * shaded * unshaded / 4.0 * turned
    step = np.full(len(fine), fine[1])
    step[[0, -1]] /= 2.0
    between = np.interp(fine[:, None] * (NODES - 1) - np.arange(NODES), (-1.0, 0.0, 1.0), (0.0, 1.0, 0.0))
    gathered = (2.0 * fine * step)[:, None] * between
    return thrown.sum(axis=2) @ gathered, (thrown * far * np.cos(turn)).sum(axis=2) @ gathered


def balanced(thrown: Floats, wanted: Floats) -> Floats:
    """Factors k (NODES,) with which k(i)·Σ thrown(i, o)·k(o) is what is wanted."""
    k = np.sqrt(wanted + _NOTHING)
    for _ in range(_BALANCES):
        k = np.sqrt(k * (wanted + _NOTHING) / (thrown @ k + _NOTHING))
    return np.where(wanted > _NOTHING, k, 0.0)


def wide_lobe(back: Floats, along: Floats) -> float:
    """Roughness of the lobe that throws what comes back (NODES,) as far along the face as it travels (NODES,)."""
    weight = node_weights() * node_cosines()
    low, high = _WIDE
    for _ in range(12):
        middle = (low + high) / 2.0
        thrown, far = lobe(middle)
        k = balanced(thrown, back)
        # Narrower lobes throw light farther along.
        if weight @ (k * (far @ k)) > weight @ along:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def passing_ends(outside: Floats, inside: Floats) -> tuple[Floats, Floats]:
    """Factors b (NODES,) outside and inside of light that passes after more than one facet, from its shares (NODES,).

    b(μi)·b'(μo)·μo/π, times n² from outside, spreads b(μi)·B' over the far side, B = 2∫bμ dμ; so b = share/(n²·B')
    and b' = share'/B. Only the product of both is known: B = B'.
    """
    weight = 2.0 * node_weights() * node_cosines()
    both = (weight @ outside / INDEX**2 + weight @ inside) / 2.0
    if both <= _NOTHING:
        return np.zeros(NODES), np.zeros(NODES)
    return outside / INDEX**2 / np.sqrt(both), inside / np.sqrt(both)


def rows(alpha: float, samples: int) -> tuple[float, Floats, Floats]:
    """The lobe's roughness, shares (4, NODES) and ends (4, NODES) of one roughness."""
    rest = []
    for inside in (False, True):
        every, one = all_bounces(alpha, inside, samples), one_scattering(alpha, inside, samples)
        rest.append(
            [
                np.maximum(every.back - one.back, 0.0),
                np.maximum(every.on - one.on, 0.0),
                every.along - one.along,
            ]
        )
    (back_out, on_out, _), (back_in, on_in, along) = rest
    # Hardly any comes back outside; the lobe of what comes back inside serves it.
    wide = wide_lobe(back_in, along)
    thrown, _ = lobe(wide)
    end_out, end_in = passing_ends(on_out, on_in)
    ends = np.stack([balanced(thrown, back_out), end_out, balanced(thrown, back_in), end_in])
    return wide, np.stack([back_out, on_out, back_in, on_in]), ends


def _cosines() -> Floats:
    # Level light meets no face at all.
    return np.maximum(node_cosines(), 1e-4)


def _to(cosine: float, count: int) -> Singles:
    way = np.array([np.sqrt(1.0 - cosine * cosine), 0.0, cosine], np.float32)
    return np.repeat(way[:, None], count, axis=1)


def _shaded(cosine: Singles, alpha: Singles) -> Floats:
    """Λ of directions (n,) that rise."""
    return 1.0 / smith(np.maximum(cosine, np.float32(1e-6)), alpha).astype(np.float64) - 1.0


def make_sanded_table(samples: int = 524_288) -> None:
    """Work out every roughness and write the table beside this file."""
    found = []
    for alpha in _ROUGHNESS:
        found.append(rows(alpha, samples))
        wide, shares, ends = found[-1]
        sys.stderr.write(
            f"{alpha:g}: wide {wide:.3f}, shares to {shares.max():.3f}, ends to {ends.max():.3f}\n"
        )
    np.savez_compressed(
        Path(__file__).with_name("sanded.npz"),
        roughness=np.array(_ROUGHNESS),
        wide=np.array([wide for wide, _, _ in found]),
        shares=np.array([shares for _, shares, _ in found], np.float32),
        ends=np.array([ends for _, _, ends in found], np.float32),
        samples=np.array([samples]),
    )


if __name__ == "__main__":
    make_sanded_table(*map(int, sys.argv[1:2]))
