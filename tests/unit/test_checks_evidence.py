"""What was folded once is not folded again: pieces are remembered by all that their folding follows from."""

import dataclasses

import pytest

from foldproof.checks import evidence
from foldproof.design.change import changed
from foldproof.design.measure import measure
from foldproof.design.prove import prove
from foldproof.findings import Change
from foldproof.project.read import read_project
from foldproof.service.starting import example_text


@pytest.fixture
def searched(monkeypatch):
    """The pieces whose orders were searched, from nothing remembered."""
    evidence._place_for.cache_clear()
    found = []
    whole = evidence.search_orders

    def watched(laws, limits, progress):
        found.append(laws.tree.piece.id)
        return whole(laws, limits, progress)

    monkeypatch.setattr(evidence, "search_orders", watched)
    yield found
    evidence._place_for.cache_clear()


@pytest.fixture(scope="module")
def project():
    return read_project(example_text("tidepool"))


def with_value(project, path, value):
    return changed(project, (Change(path=path, value=value),))


def test_proving_the_same_project_again_gives_the_same_proof_without_folding(searched, project):
    first = prove(measure(project))
    assert searched[0] == "tray" and len(searched) == len(set(searched))
    count = len(searched)
    assert prove(measure(project)) == first
    assert len(searched) == count


@pytest.mark.parametrize(
    ("path", "value", "again"),
    [
        ("parts.lid.hole_from_corner", "5/8 in", []),
        ("parts.lid.strip", "1 1/8 in", ["triangle", "cap"]),
        ("parts.tray.wall_height", "2 3/8 in", ["tray"]),
    ],
)
def test_only_the_pieces_that_a_change_touches_are_folded_again(searched, project, path, value, again):
    prove(measure(project))
    searched.clear()
    other = with_value(project, path, value)
    after = prove(measure(other))
    assert searched == again
    evidence._place_for.cache_clear()
    assert prove(measure(other)) == after, "as if nothing had been remembered"


def test_thicker_card_and_other_limits_fold_everything_again(searched, project):
    pieces = sum(len(part.evidence.pieces) for part in prove(measure(project)).parts)
    thickness = dataclasses.replace(project.cardstock.thickness, high_mm=project.cardstock.thickness.high_mm + 0.02)
    card = dataclasses.replace(project.cardstock, thickness=thickness)
    folding = dataclasses.replace(project.folding, finger_mm=project.folding.finger_mm + 1.0)
    for other in (dataclasses.replace(project, cardstock=card), dataclasses.replace(project, folding=folding)):
        searched.clear()
        prove(measure(other))
        assert len(searched) == pieces


def test_what_was_stopped_is_not_remembered_and_what_is_remembered_can_be_stopped(searched, project):
    def stop(stage, done, total):
        return stage != "orders"

    assert prove(measure(project), stop).stopped
    searched.clear()
    assert not prove(measure(project)).stopped
    assert searched
    assert prove(measure(project), stop).stopped
