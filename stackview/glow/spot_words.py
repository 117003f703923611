"""A hot-spot ratio in a word, where its error allows one."""

VAGUE_FROM, UNKNOWN_FROM = 0.15, 0.4
"""Relative standard errors of a ratio from which its word is a rough one, and none."""
IN_THE_DARK = "dark"
"""A plate whose brightest place is no brighter than the room of an evening."""
EVEN, SOFT, SPOTS = 1.3, 2.0, 4.0
"""Hot-spot ratios at which the words change: ours, untested on people."""


def word_for(ratio: float) -> str:
    """A hot-spot ratio in a word: under 1.3 even, to 2 soft, to 4 spots, above single LEDs.

    >>> word_for(1.1), word_for(1.3), word_for(3.0), word_for(71.0)
    ('even', 'soft', 'spots', 'single LEDs')
    """
    for limit, word in ((EVEN, "even"), (SOFT, "soft"), (SPOTS, "spots")):
        if ratio < limit:
            return word
    return "single LEDs"


def word_known(ratio: float, error: float) -> str:
    """The same word where the ratio's relative standard error allows one.

    >>> word_known(3.5, 0.05), word_known(3.5, 0.29), word_known(4.0, 5.0)
    ('spots', 'about spots', 'not known yet')
    """
    if error > UNKNOWN_FROM:
        return "not known yet"
    return word_for(ratio) if error <= VAGUE_FROM else f"about {word_for(ratio)}"
