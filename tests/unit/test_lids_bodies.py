"""Which edges of a lid can meet the box: those that hang beside every lower layer."""

from foldproof.geometry.plane import Polygon
from foldproof.lids.bodies import lid_bodies
from foldproof.lids.box import rectangle
from foldproof.lids.records import Fastener, LidLayer, TurningLid


def layer(name: str, outline: Polygon, low_mm: float, droop_mm: float) -> LidLayer:
    return LidLayer(
        name=name,
        outline=outline,
        low_mm=low_mm,
        high_mm=low_mm + 0.3,
        mass_g=1.0,
        droop_mm=droop_mm,
        lift_mm=0.0,
        border_mm=6.0,
        pierced=True,
        greeting=False,
    )


def names_of(upper_side_mm: float) -> tuple[str, ...]:
    lid = TurningLid(
        layers=(
            layer("lower", rectangle(100.0, 100.0), 0.0, 0.0),
            layer("upper", rectangle(upper_side_mm, 60.0), 3.0, 6.0),
        ),
        fastener=Fastener(
            kind="brad", hole_mm=3.0, head_mm=6.0, legs_mm=12.0, back_mm=0.0, least_mm=0.0, most_mm=8.0, mass_g=0.5
        ),
        hole=(0.0, 0.0),
        triangle_layers_mm=0.6,
    )
    return lid_bodies(lid, 50.0).names


def test_an_edge_that_hangs_over_a_lower_layer_rests_on_it():
    assert names_of(80.0) == ("lower",)


def test_an_edge_that_hangs_beside_the_lower_layer_is_a_body():
    names = names_of(120.0)
    assert names[0] == "lower" and set(names[1:]) == {"upper"}
    assert len(names) == 1 + 4  # both ends, and both long edges, which reach past the lower layer
