"""Changes tried on a project without its file say what the changed file would say."""

from importlib.resources import files

import pytest

from foldproof.design.change import changed
from foldproof.errors import InputError
from foldproof.findings import Change
from foldproof.project.canonical import canonical
from foldproof.project.read import read_project
from foldproof.project.write import with_change

TIDEPOOL = files("foldproof").joinpath("examples", "tidepool.toml").read_text(encoding="utf-8")


def change(path, value):
    """The example with one change made."""
    return changed(read_project(TIDEPOOL), (Change(path=path, value=value),))


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("parts.tray.base_length", "3"),
        ("parts.tray.glue", "tape"),
        ("parts.lid.across", "5 3/4"),
        ("parts.lid.hole_from_corner", "7/8 in"),
        ("parts.lid.shape", "scalloped disc"),
        ("parts.lid.lobes", "12"),
        ("parts.lid.lobes", "usual"),
        ("parts.lid.depth", "usual"),
        ("parts.lid.closed", "-7.5"),
        ("parts.lid.closed", "15"),
        ("parts.lid.closed", "dip over the corner"),
        ("parts.lid.layers.1.fixed", "foam"),
        ("parts.lid.layers.2.across", "4 3/4"),
        ("parts.lid.layers.2.across", "as the lid"),
        ("parts.lid.layers.3.turned", "18"),
        ("parts.lid.layers.4.colour", "rain blue"),
        ("parts.lid.layers.4.fill", "#7D95A8"),
    ],
)
def test_a_change_is_what_the_changed_file_says(path, value):
    assert canonical(change(path, value)) == canonical(read_project(with_change(TIDEPOOL, path, value)))


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("parts.lid.acros", "5"),
        ("parts.lid.across", "wide"),
        ("parts.lid.across", "5 m"),
        ("parts.lid.across.mm", "5"),
        ("parts.lid.lobes", "12.5"),
        ("parts.lid.lobes", "2"),
        ("parts.lid.closed", "nan"),
        ("parts.lid.closed", "361"),
        ("parts.lid.opens", "upwards"),
        ("parts.lid.on", "box"),
        ("parts.lid.layers", "3"),
        ("parts.lid.layers.0.across", "4"),
        ("parts.lid.layers.5.across", "4"),
        ("parts.lid.layers.2", "4"),
        ("parts.lid.layers.2.acros", "4"),
        ("parts.lid.layers.2.foam", "-1"),
        ("parts.lid.layers.2.fill", "red"),
        ("parts.lid.layers.2.colour", ""),
        ("parts.lid.layers.2.colour", "x" * 41),
    ],
)
def test_what_cannot_be_is_refused_with_its_path(path, value):
    with pytest.raises(InputError) as caught:
        change(path, value)
    (problem,) = caught.value.problems
    assert (problem.field, problem.value) == (path, value)
    assert problem.reason and problem.remedy
