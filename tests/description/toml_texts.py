"""TOML texts of every style that a lamp's file may be written in, drawn by hypothesis."""

from typing import Any

from hypothesis import strategies as st

GAPS = st.sampled_from(["", " ", "  ", "\t"])
COMMENTS = st.sampled_from(["", "  # a note", " #x = 3", "\t# [no] \"header\" 'here'"])
NAMES = st.sampled_from(["ring", "plate-stock", "base plate", "no. 2", "é", 'half "inch"', "7"])
PLAIN = st.one_of(
    st.integers(-999, 9999).map(str),
    st.sampled_from(["0.110", "1e-3", "+4.50", "-0.0", "1_000", "0x1F", "true", "false", "inf"]),
    st.sampled_from(['"5-1/2 in"', "'it is'", '"a # b"', r'"quote \" end"', '"""two\nlines"""', "'''a'b'''"]),
    st.sampled_from(["1979-05-27 07:32:00", "07:32:00", r'""""three \""""""', "''''four'''''"]),
)


@st.composite
def keys(draw: Any) -> str:
    name = draw(NAMES)
    if name.replace("-", "").isascii() and name.replace("-", "").isalnum():
        return str(name)
    return "'" + name + "'" if draw(st.booleans()) else '"' + name.replace('"', '\\"') + '"'


@st.composite
def values(draw: Any, depth: int = 0) -> str:
    kind = draw(st.integers(0, 3 if depth < 2 else 0))
    if kind < 2:
        return str(draw(PLAIN))
    gap = lambda: draw(GAPS)  # noqa: E731
    if kind == 2:
        line = draw(st.sampled_from(["", "\n", " # each\n  "]))
        parts = draw(st.lists(values(depth=depth + 1), max_size=3))
        last = "," if parts and draw(st.booleans()) else ""
        return "[" + line + ("," + line).join(gap() + part + gap() for part in parts) + last + line + "]"
    held = draw(
        st.lists(st.tuples(keys(), values(depth=depth + 1)), max_size=3, unique_by=lambda e: plain(e[0]))
    )
    return "{" + ",".join(f"{gap()}{key}{gap()}={gap()}{value}{gap()}" for key, value in held) + "}"


def plain(key: str) -> str:
    return key.strip("'\"").replace("\\", "")


@st.composite
def lines(draw: Any) -> str:
    """Keys of one table, some dotted, with comments and empty lines between."""
    made = []
    for key, value in draw(
        st.lists(st.tuples(keys(), values()), max_size=4, unique_by=lambda e: plain(e[0]))
    ):
        indent, gap = draw(st.sampled_from(["", "  "])), draw(GAPS)
        dotted = draw(st.sampled_from(["", "", f"{gap}.{gap}deep"]))
        made.append(f"{indent}{key}{dotted}{gap}={gap}{value}{draw(COMMENTS)}\n")
        made.append(draw(st.sampled_from(["", "\n", "# between\n"])))
    return "".join(made)


@st.composite
def texts(draw: Any) -> str:
    """A whole text: top keys, tables and lists of tables, apart from each other or not."""
    top = draw(lines())
    count = draw(st.integers(0, 3))
    tables = [f"[ t{i} . {draw(keys())} ]{draw(COMMENTS)}\n{draw(lines())}" for i in range(count)]
    entries = [f"[[layer]]{draw(COMMENTS)}\n{draw(lines())}" for _ in range(draw(st.integers(0, 3)))]
    entries = [e + (f"  [layer.sub]\n{draw(lines())}" if draw(st.booleans()) else "") for e in entries]
    text = top + "".join(draw(st.permutations([*tables, *entries])))
    text = text.replace("\n", "\r\n") if draw(st.booleans()) else text
    text = text.rstrip("\r\n") if draw(st.booleans()) else text
    return ("\ufeff" if draw(st.booleans()) else "") + text
