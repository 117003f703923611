"""What checks propose to change: from tables, and of the right part."""

from stackview.checks.proposals import smaller_fuse, thicker_wires, wider_bore
from stackview.description.lamp import Bore, Layer
from stackview.findings import Way
from tests.stack.layers import ASH, circle


def test_wires_are_of_a_size_that_is_sold() -> None:
    assert thicker_wires("cord", 0.5, 0.65) == (Way("cord", "wire", "0.5 mm2", "0.75 mm2", is_length=False),)
    assert thicker_wires("cord", 0.5, 0.75)[0].guess == "0.75 mm2"
    assert thicker_wires("cord", 0.5, 4.1) == thicker_wires("cord", 0.5, None) == ()
    # no thicker ones are needed
    assert thicker_wires("cord", 0.75, 0.7) == ()


def test_a_fuse_is_the_largest_made_between_what_flows_and_what_the_wires_stand() -> None:
    (way,) = smaller_fuse(30.0, 1.44, 0.34)
    assert isinstance(way.guess, float)
    assert 1.44 <= way.guess <= 10.0
    assert smaller_fuse(30.0, 12.0, 4.0) == ()


def test_a_bore_is_that_of_its_layer() -> None:
    bores = (Bore(4.0, 6.0, 0.0), Bore(5.0, 6.0, 90.0))
    layer = Layer("base", ASH, 12.0, circle(80.0), bores=bores)
    assert wider_bore(layer, bores[1], 6.4) == (Way("base", "bore.1.diameter", 5.0, 6.4),)
