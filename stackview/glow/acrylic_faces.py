"""What sanded and opal faces do, taught to the renderer, whose own kinds lose or gain light there.

Sanded: one scattering off micro-facets, shadowed as heights are, and what leaves after more (``sanded_table``), so that
all light is kept. Opal: Lambert's law on both sides, which the renderer's thin sheet does not follow.
"""

from functools import cache
from typing import Any

import numpy as np

from stackview.glow.sanded_table import sanded_faces
from stackview.sight.refraction import INDEX

SANDED, SPREADING = "stackview_sanded", "stackview_spreading"
"""Names under which the renderer knows the two."""


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
        where = dr.sqrt(cosine) * last
        if isinstance(where, float):
            low = min(int(where), last - 1)
            return curve[low] + (where - low) * (curve[low + 1] - curve[low])
        below = dr.minimum(mi.UInt32(where), last - 1)
        one, other = (dr.gather(mi.Float, curve, below + step, active) for step in (0, 1))
        return dr.fma(where - mi.Float(below), other - one, one)

    def shaded(cosine: Any, alpha: float) -> Any:
        """1 + Λ = (1 + √(1 + α²tan²θ))/2 (Walter et al. 2007, eq. 34)."""
        square = dr.square(cosine)
        return 0.5 + 0.5 * dr.sqrt(dr.maximum(square + alpha * alpha * (1.0 - square), 0.0)) / cosine

    def unlike(one: Any, other: Any, back: Any) -> Any:
        """By what shadowing of both ways by one height is above that of each alone, from 1 + Λ of each.

        Thrown back 1/(1 + Λi + Λo), passed B(1 + Λi, 1 + Λo) (Heitz et al. 2016, eqs. 17 and 40), over G₁·G₁.
        """
        passed = dr.exp(dr.lgamma(one) + dr.lgamma(other) - dr.lgamma(one + other))
        return one * other * dr.select(back, 1.0 / (one + other - 1.0), passed)

    def facet_in_sight(seen: Any, alpha: float, sample: Any) -> Any:
        """A facet's normal, drawn by how much of it is seen (``microsurface.facet_in_sight``)."""
        way = dr.normalize(mi.Vector3f(alpha * seen.x, alpha * seen.y, seen.z))
        cap = (1.0 - sample.y) * (1.0 + way.z) - way.z
        aside = dr.safe_sqrt(1.0 - cap * cap)
        sine, cosine = dr.sincos(dr.two_pi * sample.x)
        return dr.normalize(
            mi.Vector3f(alpha * (way.x + aside * cosine), alpha * (way.y + aside * sine), way.z + cap)
        )

    class SandedFace(mi.BSDF):  # type: ignore[misc]
        """Property ``alpha``: the micro-facets' GGX width."""

        def __init__(self, props: Any) -> None:
            mi.BSDF.__init__(self, props)
            self.alpha = float(props["alpha"])
            kind = {"type": "roughdielectric", "distribution": "ggx", "alpha": self.alpha}
            self.single = mi.load_dict(kind | {"int_ior": INDEX, "ext_ior": 1.0})
            scalar = isinstance(mi.Float(0), float)
            self.wide, *tables = sanded_faces().at(self.alpha)
            self.shares, self.ends = (
                [c.tolist() if scalar else mi.Float(c.astype(np.float32)) for c in table] for table in tables
            )
            self.m_components = [self.single.flags(k) for k in range(self.single.component_count())]
            self.m_flags = self.single.flags()

        def after_more(self, wi: Any, active: Any) -> tuple[Any, Any]:
            """Shares that come back and pass after more than one facet."""
            outside, cosine = wi.z > 0.0, dr.abs(wi.z)
            back_out, on_out, back_in, on_in = (read(curve, cosine, active) for curve in self.shares)
            return dr.select(outside, back_out, back_in), dr.select(outside, on_out, on_in)

        def sample(self, ctx: Any, si: Any, sample1: Any, sample2: Any, active: Any = True) -> Any:
            wi = si.wi
            back, on = self.after_more(wi, active)
            comes_back, passes = sample1 < back, sample1 >= 1.0 - on
            left = dr.minimum((sample1 - back) / dr.maximum(1.0 - back - on, 1e-6), 0.99999994)
            found, _ = self.single.sample(ctx, si, dr.clip(left, 0.0, 0.99999994), sample2, active)
            meant = ~comes_back & (passes | (found.sampled_component == 1))
            up = dr.select(wi.z > 0.0, 1.0, -1.0)
            facet = facet_in_sight(mi.Vector3f(wi.x, wi.y, wi.z * up), self.wide, sample2)
            wide = mi.reflect(wi, mi.Normal3f(facet.x, facet.y, facet.z * up))
            even = mi.warp.square_to_cosine_hemisphere(sample2)
            found.wo = dr.select(
                comes_back,
                wide,
                dr.select(passes, mi.Vector3f(even.x, even.y, -even.z * up), found.wo),
            )
            crosses = wi.z * found.wo.z < 0.0
            value, found.pdf = self.eval_pdf(ctx, si, found.wo, active)
            if_crossed = dr.select(wi.z > 0.0, INDEX, 1.0 / INDEX)
            found.eta = dr.select(crosses, if_crossed, 1.0)
            found.sampled_component = dr.select(crosses, mi.UInt32(1), mi.UInt32(0))
            found.sampled_type = dr.select(
                crosses,
                mi.UInt32(+mi.BSDFFlags.GlossyTransmission),
                mi.UInt32(+mi.BSDFFlags.GlossyReflection),
            )
            # Facets may throw light through the face: one scattering loses it, and the lobe's balance knows.
            keeps = active & (found.pdf > 0.0) & (crosses == meant)
            return found, dr.select(keeps, value / dr.maximum(found.pdf, 1e-20), 0.0)

        def eval(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            return self.eval_pdf(ctx, si, wo, active)[0]

        def pdf(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            return self.eval_pdf(ctx, si, wo, active)[1]

        def eval_pdf(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            wi = si.wi
            outside, same = wi.z > 0.0, wi.z * wo.z > 0.0
            near, far = dr.maximum(dr.abs(wi.z), 1e-4), dr.clip(dr.abs(wo.z), 1e-4, 1.0)
            one, chance = self.single.eval_pdf(ctx, si, wo, active)
            one = one * unlike(shaded(near, self.alpha), shaded(far, self.alpha), same)
            half = dr.normalize(wi + wo)
            square = self.wide * self.wide
            bell = square * dr.inv_pi / dr.square(dr.square(half.z) * (square - 1.0) + 1.0)
            lobe = bell / (4.0 * near * shaded(near, self.wide))
            even = far * dr.inv_pi
            back_out, on_out, back_in, on_in = self.ends
            comes_back = dr.select(
                outside,
                read(back_out, near, active) * read(back_out, far, active),
                read(back_in, near, active) * read(back_in, far, active),
            )
            passes = dr.select(
                outside,
                read(on_out, near, active) * read(on_in, far, active),
                read(on_in, near, active) * read(on_out, far, active),
            )
            # Luminance shrinks by n² on its way out, light followed the other way does not.
            spread = dr.select(outside == (ctx.mode == mi.TransportMode.Radiance), 1.0, INDEX * INDEX)
            rest = dr.select(same, comes_back * lobe / shaded(far, self.wide), passes * even * spread)
            back, on = self.after_more(wi, active)
            drawn = dr.select(same, back * lobe, on * even)
            return (
                dr.select(active, one + rest, 0.0),
                dr.select(active, chance * (1.0 - back - on) + drawn, 0.0),
            )

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
