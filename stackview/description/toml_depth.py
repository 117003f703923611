"""How deep a TOML text nests, counted before it is parsed: parsers go down with it, and do not come back.

Every expression takes a time that grows with the length of the text alone.
"""

import re

DEEPEST = 20
"""Tables and lists within one another; a lamp's file needs six."""
# Each also takes what is not closed, so that nothing is looked at twice.
_UNPARSED = re.compile(
    r'"""(?:\\.|[^\\])*?(?:"""|\Z)'
    r"|'''.*?(?:'''|\Z)"
    r'|"(?:\\.|[^"\\\n])*"?'
    r"|'[^'\n]*'?"
    r"|#[^\n]*",
    re.DOTALL,
)
_DOTTED = re.compile(rf"(?<![\w-])(?:[\w-]+[ \t]*\.[ \t]*){{{DEEPEST}}}")
_BRACKETS = re.compile(r"[\[\]{}]")


def is_nested_deep(text: str) -> bool:
    """Whether keys of a text have more than :data:`DEEPEST` parts, or its lists and tables stand that deep.

    >>> is_nested_deep("a" + ".a" * 30 + " = 1"), is_nested_deep("a = '" + "[." * 30 + "'")
    (True, False)
    """
    bare = _UNPARSED.sub(lambda found: "_" if found[0][0] in "\"'" else "", text)
    if _DOTTED.search(bare):
        return True
    depth = 0
    for bracket in _BRACKETS.finditer(bare):
        depth = depth + 1 if bracket[0] in "[{" else max(0, depth - 1)
        if depth > DEEPEST:
            return True
    return False
