from pathlib import Path

import pytest

from stackview.description.reading import read_text
from stackview.light.supplies import carriers_of_lights, fed_together, lights_said
from stackview.study import Study


def fed_by(*feeds: str) -> Study:
    """A lamp of rings of 10 light points, each fed as is written."""
    lights = "".join(
        f'[[light]]\nname = "{number}"\nring = {{ diameter = 60, count = 10 }}\n{feed}\n'
        for number, feed in enumerate(feeds)
    )
    text = f"""
name = "x"
materials.ply = {{ plywood = "birch", sold = 9 }}
layer = [{{ name = "base", material = "ply", outline = {{ circle = 120 }} }}]
{lights}"""
    return Study(read_text(text, "lamp.toml", Path()))


FOUR, SIX = "milliamps = 40", "milliamps = 60"


@pytest.mark.parametrize(
    ("feeds", "adapter", "amperes"),
    [
        ((f'{FOUR}\nport = "usb 2.0"', f'{SIX}\nport = "USB 2.0"'), False, [1.0]),
        # a light without a port hangs on the only one that is named, at its voltage
        ((FOUR, f'{SIX}\nport = "usb 3"'), False, [1.0]),
        ((f"{FOUR}\nvolts = 12", f'{SIX}\nport = "usb 3"'), False, [0.4, 0.6]),
        ((FOUR, SIX), False, [1.0]),
        ((f'{FOUR}\nport = "usb 2.0"', f'{SIX}\nport = "usb 3"'), False, [0.4, 0.6]),
        # which of the two it hangs on is not known
        ((f'{FOUR}\nport = "usb 2.0"', f'{SIX}\nport = "usb 3"', SIX), False, [0.4, 0.6, 0.6]),
        # an adapter takes the place of all ports
        ((f'{FOUR}\nport = "usb 2.0"', f'{SIX}\nport = "usb 3"'), True, [1.0]),
        ((FOUR, ""), False, [None]),
    ],
)
def test_lights_of_one_voltage_and_port_hang_on_one_supply(
    feeds: tuple[str, ...], adapter: bool, amperes: list[float | None]
) -> None:
    found = fed_together(fed_by(*feeds).light.lit, adapter=adapter)
    assert [fed.amperes for fed in found] == [
        None if each is None else pytest.approx(each) for each in amperes
    ]


def test_a_supply_says_what_it_is() -> None:
    low, high = fed_together(fed_by('port = "usb 3"', "volts = 12", "").light.lit)
    assert (low.words, lights_said(low.lit)) == ('5 V, port "usb 3"', 'lights "0", "2"')
    assert (high.words, lights_said(high.lit)) == ("12 V", 'light "1"')
    assert carriers_of_lights(low.lit) == ("base",)
