"""How near the facets of areas come to their curves, by what the areas are for [mm]."""

AT_LARGE = 0.05
"""Whether areas meet, or how large a part is."""
TO_PASS = 0.02
"""Whether a wire or a cable gets through: a wire gives by as much."""
TO_CUT = 0.01
"""What a cutter leaves of a corner."""
