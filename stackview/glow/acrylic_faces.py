"""What sanded and opal faces do, taught to the renderer, whose own kinds lose or gain light there.

Sanded: its micro-facets, multiplied on both ends of every scattering by factors that keep all light
(``tables/make_sanded_table.py``). Opal: Lambert's law on both sides, which the renderer's thin sheet does not follow.
"""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np

from stackview.arrays import Floats
from stackview.sight.refraction import INDEX

SANDED, SPREADING = "stackview_sanded", "stackview_spreading"
"""Names under which the renderer knows the two."""


@dataclass(frozen=True, slots=True, eq=False)
class SandedTable:
    """Factors (roughness, 4, cosine): reflected and passed outside, then inside; at cosines even in their root."""

    roughness: Floats
    factors: Floats

    def __post_init__(self) -> None:
        for array in (self.roughness, self.factors):
            array.setflags(write=False)

    def at(self, roughness: float) -> Floats:
        """The four curves (4, cosine) of one roughness, held within the table."""
        where = float(np.interp(roughness, self.roughness, np.arange(len(self.roughness))))
        low = min(int(where), len(self.roughness) - 2)
        return np.asarray(
            self.factors[low] + (where - low) * (self.factors[low + 1] - self.factors[low]), np.float64
        )


@cache
def sanded_table() -> SandedTable:
    """The table that comes with the program."""
    with (files("stackview.glow") / "tables" / "sanded.npz").open("rb") as file, np.load(file) as held:
        return SandedTable(held["roughness"].astype(np.float64), held["factors"].astype(np.float64))


@cache
def taught(library: Any, variant: str) -> None:
    """Make both kinds of face known to one variant of the renderer, which must be set."""
    del variant
    library.register_bsdf(SANDED, _sanded(library))
    library.register_bsdf(SPREADING, _spreading(library))


def _sanded(mi: Any) -> Any:
    import drjit as dr

    def read(curve: Any, cosine: Any, active: Any) -> Any:
        """A curve at a cosine, by a straight line over its square root."""
        last = len(curve) - 1
        where = dr.sqrt(dr.abs(cosine)) * last
        if isinstance(where, float):
            low = min(int(where), last - 1)
            return curve[low] + (where - low) * (curve[low + 1] - curve[low])
        below = dr.minimum(mi.UInt32(where), last - 1)
        one, other = (dr.gather(mi.Float, curve, below + step, active) for step in (0, 1))
        return dr.fma(where - mi.Float(below), other - one, one)

    class SandedFace(mi.BSDF):  # type: ignore[misc]
        """Property ``alpha``: the micro-facets' GGX width."""

        def __init__(self, props: Any) -> None:
            mi.BSDF.__init__(self, props)
            alpha = float(props["alpha"])
            kind = {"type": "roughdielectric", "distribution": "ggx", "alpha": alpha}
            self.single = mi.load_dict(kind | {"int_ior": INDEX, "ext_ior": 1.0})
            scalar = isinstance(mi.Float(0), float)
            curves = sanded_table().at(alpha)
            self.curves = [c.tolist() if scalar else mi.Float(c.astype(np.float32)) for c in curves]
            self.m_components = [self.single.flags(k) for k in range(self.single.component_count())]
            self.m_flags = self.single.flags()

        def factor(self, before: Any, after: Any, active: Any) -> Any:
            """By what one scattering between two directions is brightened."""
            back_out, on_out, back_in, on_in = (
                (read(curve, before, active), read(curve, after, active)) for curve in self.curves
            )
            outside = before > 0.0
            back = dr.select(outside, back_out[0] * back_out[1], back_in[0] * back_in[1])
            on = dr.select(outside, on_out[0] * on_in[1], on_in[0] * on_out[1])
            return dr.select(before * after > 0.0, back, on)

        def sample(self, ctx: Any, si: Any, sample1: Any, sample2: Any, active: Any = True) -> Any:
            found, weight = self.single.sample(ctx, si, sample1, sample2, active)
            return found, weight * self.factor(si.wi.z, found.wo.z, active)

        def eval(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            return self.single.eval(ctx, si, wo, active) * self.factor(si.wi.z, wo.z, active)

        def pdf(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            return self.single.pdf(ctx, si, wo, active)

        def eval_pdf(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            value, chance = self.single.eval_pdf(ctx, si, wo, active)
            return value * self.factor(si.wi.z, wo.z, active), chance

    return SandedFace


def _spreading(mi: Any) -> Any:
    import drjit as dr

    class SpreadingFace(mi.BSDF):  # type: ignore[misc]
        """Properties ``back`` and ``through``: shares thrown back and passed, both evenly spread (Lambert)."""

        def __init__(self, props: Any) -> None:
            mi.BSDF.__init__(self, props)
            self.back, self.through = float(props["back"]), float(props["through"])
            self.share = self.through / max(self.back + self.through, 1e-9)
            sides = mi.BSDFFlags.FrontSide | mi.BSDFFlags.BackSide
            self.m_components = [
                mi.BSDFFlags.DiffuseReflection | sides,
                mi.BSDFFlags.DiffuseTransmission | sides,
            ]
            self.m_flags = self.m_components[0] | self.m_components[1]

        def sample(self, _ctx: Any, si: Any, sample1: Any, sample2: Any, active: Any = True) -> Any:
            passes = sample1 < self.share
            way = mi.warp.square_to_cosine_hemisphere(sample2)
            up = (si.wi.z > 0.0) ^ passes
            found = dr.zeros(mi.BSDFSample3f)
            found.wo = dr.select(up, way, mi.Vector3f(way.x, way.y, -way.z))
            share = dr.select(passes, self.share, 1.0 - self.share)
            found.pdf = mi.warp.square_to_cosine_hemisphere_pdf(way) * share
            found.eta = 1.0
            found.sampled_component = dr.select(passes, mi.UInt32(1), mi.UInt32(0))
            found.sampled_type = dr.select(
                passes,
                mi.UInt32(+mi.BSDFFlags.DiffuseTransmission),
                mi.UInt32(+mi.BSDFFlags.DiffuseReflection),
            )
            weight = mi.Spectrum(self.back + self.through)
            return found, dr.select(active & (found.pdf > 0.0), weight, 0.0)

        def eval(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            return self.eval_pdf(ctx, si, wo, active)[0]

        def pdf(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            return self.eval_pdf(ctx, si, wo, active)[1]

        def eval_pdf(self, _ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            passes = si.wi.z * wo.z < 0.0
            lobe = dr.select(active, dr.abs(wo.z) * dr.inv_pi, 0.0)
            share = dr.select(passes, self.share, 1.0 - self.share)
            return mi.Spectrum(lobe * dr.select(passes, self.through, self.back)), lobe * share

    return SpreadingFace
