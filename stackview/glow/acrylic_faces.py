"""What sanded and opal faces do, taught to the renderer, whose own kinds lose or gain light there.

Sanded: micro-facets with all bounces, so that all light is kept (``sanded_lobes``). Opal: Lambert's law on both
sides, which the renderer's thin sheet does not follow.
"""

from functools import cache
from typing import Any

from stackview.glow.sanded_lobes import sanded_lobes

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

    class SandedFace(mi.BSDF):  # type: ignore[misc]
        """Property ``alpha``: the micro-facets' GGX width."""

        def __init__(self, props: Any) -> None:
            mi.BSDF.__init__(self, props)
            self.lobes = sanded_lobes(mi, dr, float(props["alpha"]))
            single = self.lobes.single
            self.m_components = [single.flags(k) for k in range(single.component_count())]
            self.m_flags = single.flags()

        def sample(self, ctx: Any, si: Any, sample1: Any, sample2: Any, active: Any = True) -> Any:
            return self.lobes.drawn(ctx, si, sample1, sample2, active)

        def eval(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            return self.lobes.value_and_chance(ctx, si, wo, active)[0]

        def pdf(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            return self.lobes.value_and_chance(ctx, si, wo, active)[1]

        def eval_pdf(self, ctx: Any, si: Any, wo: Any, active: Any = True) -> Any:
            return self.lobes.value_and_chance(ctx, si, wo, active)

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
