"""What a measured piece says of itself: a sheet that is not cut keeps its size, tabs that lap count."""

import pytest

from foldproof.checks.catalogue import run_checks
from foldproof.checks.evidence import gather
from foldproof.design.measure import measure
from foldproof.findings import Severity
from foldproof.project.read import read_project

TRAY = """
format = 1
name = "A tray"
unit = "in"
[cardstock]
sheet = "12x12"
{card}
weight = "176 gsm"
thickness = "0.4 mm"
[board]
stops = "inch eighths"
[parts.tray]
construction = "{construction}"
base_length = "3 3/4"
base_width = "{width}"
wall_height = "2 5/8"
{values}
"""


def measured(width="3 3/4", values="", card="", construction="double-wall tray"):
    text = TRAY.format(width=width, values=values, card=card, construction=construction)
    return measure(read_project(text))


def test_a_sheet_off_the_ruler_that_is_not_cut_keeps_its_size_and_fits_itself():
    done = measured(values='inner_wall = "1 1/2"\npiece = "whole sheet"', card='measured = "301 mm x 301 mm"')
    piece = done.parts[0].pieces[0]
    assert (piece.width.shown.float_mm, piece.width.error.float_mm) == (301.0, 0.0)
    assert piece.piece.blank_width_mm == 301.0
    evidence = gather(done.project, done.parts[0].part, done.parts[0].pieces, done.parts[0].assembly)
    fits = next(finding for finding in run_checks(evidence) if finding.code == "fits_sheet")
    assert (fits.severity, fits.measured) == (Severity.HOLDS, 0.0)


@pytest.mark.parametrize(
    ("construction", "values", "layers"),
    [("double-wall tray", 'inner_wall = "1 1/2"\n', (3, 2)), ("plain tray", "", (2, 1))],
)
def test_tabs_that_lap_are_a_layer_more_beside_the_inside(construction, values, layers):
    tall = values + 'tab_length = "as long as the wall is tall"'
    meet = measured(values=values, construction=construction)
    lapped = measured(values=tall, construction=construction)
    apart = measured(values=tall, construction=construction, width="5 1/2")  # wider than two tabs
    card = meet.project.cardstock.thickness.high_mm
    for done, beside in ((meet, layers[0]), (lapped, layers[0] + 1), (apart, layers[0])):
        form = done.parts[0].assembly.forms[0]
        lost = [outer - inner for outer, inner in zip(form.outer_mm, form.inner_mm, strict=True)]
        assert lost == pytest.approx([2 * beside * card, 2 * layers[1] * card])
