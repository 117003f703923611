"""Every command, with a line on what it does; each is imported when it is asked for."""

from cyclopts import App

from stackview import __version__

app = App(
    name="stackview",
    version=__version__,
    help="See a tiered lamp before cutting it: how it looks, how it stacks up, and from where its light points show.",
    help_format="plaintext",
    # Ours says what is left.
    suppress_keyboard_interrupt=False,
)
for _name, _help in (
    ("demo", "Copy a demo lamp out and preview it; without a name, list the demos."),
    ("preview", "Preview a lamp: summary here, pictures into a folder beside its file."),
    ("check", "Will it go together, hold, and run? Findings with numbers, limits and sources."),
    ("picture", "Pictures for a build log: studio, spread, half, elevation, turn and more."),
    ("parts", "What is made and bought: every different part once, with count, size, work and finish."),
    ("steps", "The order of work: what is cut, flipped, wired, tested and glued when, and why."),
    ("export", "Models for other programs: GLB, 3MF, OBJ and STL, the whole lamp or part by part."),
    ("sheets", "Parts of so many lamps on the sheets at hand: what fits, what to buy, DXF, SVG and PDF."),
    ("drawings", "Drawings to cut from: DXF and SVG of every part, and a PDF with all its numbers."),
    ("view", "Turn the lamp in a window: what shows from there, cut, spread, live as you edit."),
    ("sight", "From where do light points show? Exact sightlines, as a table or as JSON."),
    ("glow", "How it glows: luminance, hot spots, lumens, evening pictures. Needs the extra glow."),
    ("finish", "Roughness of your sanded acrylic, from a photograph of one LED behind an offcut."),
    ("new", "Write a commented starter lamp to begin from."),
    ("keys", "Every key of a lamp's file: what it means, its default and why, an example."),
    ("schema", "Print the JSON Schema of a lamp's file, for editors that complete as you type."),
):
    app.command(f"stackview.commands.{_name}:{_name}", name=_name, help=_help)

ONLY_PRINT = frozenset({"check", "parts", "sight", "keys", "schema"})
"""Commands that write no file: where nobody reads what they print, there is nothing left for them to do."""
