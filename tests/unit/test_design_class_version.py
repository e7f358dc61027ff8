"""The class version: no hot glue in what is measured, proved, drawn and told."""

import hashlib
import io
from dataclasses import replace
from importlib.resources import files

import pypdf
import pytest

from foldproof.design import sheets
from foldproof.design.class_version import as_taught, class_version
from foldproof.design.fit import fit
from foldproof.design.lid_parts import lids_of
from foldproof.design.measure import measure
from foldproof.design.pack import pack
from foldproof.design.prove import prove
from foldproof.design.steps import document_of, told_steps
from foldproof.drawing.records import Paragraph
from foldproof.exports.text import document_text
from foldproof.progress import unwatched
from foldproof.project.canonical import canonical
from foldproof.project.read import read_project
from foldproof.views.measures import MeasuredThing, measures_document
from foldproof.words.catalogue import ENGLISH

CLASS = '\n[teach]\nversion = "class"\n'


def example(name):
    return files("foldproof").joinpath("examples", f"{name}.toml").read_text(encoding="utf-8")


def hot_tidepool():
    """The keepsake box with hot glue in its tray and between its layers."""
    text = example("tidepool").replace('fixed = "wet glue"', 'fixed = "hot glue"')
    return text.replace("[parts.tray]\n", '[parts.tray]\nglue = "hot glue"\n', 1)


def glues(project):
    """Every glue of a project: of its parts, then of the layers of its lids."""
    values = [part.values for part in project.parts]
    return [each.glue for each in values if hasattr(each, "glue")] + [
        layer.fixed for each in values for layer in getattr(each, "layers", ())
    ]


def test_hot_glue_becomes_wet_glue_in_parts_and_layers_and_nothing_else_changes():
    project = read_project(hot_tidepool())
    assert glues(project).count("hot glue") >= 3
    taught = class_version(project)
    assert taught.teach.version == "class"
    assert "hot glue" not in glues(taught)
    was, now = canonical(project).splitlines(), canonical(taught).splitlines()
    changed = [(old, new) for old, new in zip(was, now, strict=True) if old != new]
    assert len(changed) == glues(project).count("hot glue") + 1
    assert all('"hot glue"' in old and '"wet glue"' in new for old, new in changed if "teach" not in old)


@pytest.mark.parametrize("other", ["tape", "wet glue"])
def test_other_glue_stays(other):
    project = read_project(example("shell-tray").replace("[parts.tray]\n", f'[parts.tray]\nglue = "{other}"\n', 1))
    assert glues(class_version(project)) == [other]


def test_foam_stays_foam():
    project = read_project(hot_tidepool().replace('fixed = "hot glue"', 'fixed = "foam"', 1))
    assert glues(class_version(project)).count("foam") == glues(project).count("foam") >= 1


def test_it_is_its_own_class_version():
    taught = class_version(read_project(hot_tidepool()))
    assert class_version(taught) == taught == as_taught(taught)


def test_a_full_project_is_taught_as_it_is():
    project = read_project(hot_tidepool())
    assert as_taught(project) is project
    assert "hot glue" in glues(measure(project).project)


def test_what_is_measured_and_proved_is_what_is_made():
    measured = measure(read_project(hot_tidepool() + CLASS))
    assert "hot glue" not in glues(measured.project)
    assert {join.adhesive for part in measured.parts for join in part.assembly.joins} == {"wet_glue"}
    full, taught = prove(measure(read_project(hot_tidepool()))), prove(measured)
    cold = prove(measure(read_project(hot_tidepool().replace("hot glue", "wet glue"))))
    findings = [[part.findings for part in proof.parts] for proof in (taught, cold, full)]
    assert findings[0] == findings[1] != findings[2]  # a line of hot glue between layers has a thickness
    assert [each.code for each in taught.assumptions if each.code == "class_version"] == ["class_version"]
    assert [each.code for each in full.assumptions if each.code == "class_version"] == []


def test_its_hash_is_that_of_what_is_made():
    taught = read_project(hot_tidepool() + CLASS)
    made = class_version(read_project(hot_tidepool()))
    assert prove(measure(taught)).input_hash == hashlib.sha256(canonical(made).encode()).hexdigest()
    assert canonical(taught) != canonical(made)  # what the file says still has its hot glue
    assert canonical(read_project(example("tidepool"))) != canonical(read_project(example("tidepool") + CLASS))


def test_a_lid_is_fitted_with_the_glue_it_is_made_with():
    text = hot_tidepool() + CLASS
    project = read_project(text)
    cold = read_project(text.replace("hot glue", "wet glue"))
    lids = [next(part for part in each.parts if part.on) for each in (project, cold)]
    assert fit(project, lids[0]) == fit(cold, lids[1])


def told(text):
    project = read_project(text)
    measured = measure(project)
    proof = prove(measured)
    return measured, proof, told_steps(measured.project, proof, unwatched)


def test_steps_that_need_a_knife_say_who_cuts_and_no_step_says_hot_glue():
    measured, proof, steps = told(hot_tidepool() + CLASS)
    every = [step for piece in steps.pieces for step in piece.steps]
    knives = [step for step in every if "craft knife is sharp" in (step.caution or "")]
    assert len(knives) >= 3
    assert all("Ask the teacher to cut, or use scissors." in step.caution for step in knives)
    others = [step for step in every if step not in knives]
    assert not any("teacher" in (step.caution or "") for step in others)
    assert steps.cautions.count("Ask the teacher to cut, or use scissors.") == 1
    document = document_of(measured.project, proof, steps)
    assert document.blocks[0] == Paragraph(text="Class version: no hot glue.")
    assert document_text(document).lower().count("hot glue") == 1


def test_a_full_version_names_no_teacher():
    measured, proof, steps = told(example("tidepool"))
    text = document_text(document_of(measured.project, proof, steps))
    assert "teacher" not in text and "Class version" not in text


@pytest.mark.parametrize(("extra", "count"), [("", 0), (CLASS, 1)])
def test_measures_say_so(extra, count):
    measured = measure(read_project(example("shell-tray") + extra))
    things = tuple(
        MeasuredThing(name=part.part.name, construction="", revision=1, pieces=part.pieces, forms=())
        for part in measured.parts
    )
    text = document_text(measures_document(measured.project, things))
    assert text.count("Class version: no hot glue.") == count


def test_the_hand_changes_no_measure():
    project = read_project(example("shell-tray"))
    left = replace(project, teach=replace(project.teach, hand="left"))
    assert measure(left).parts == measure(project).parts


def test_every_leaf_and_cut_file_says_what_version_it_is():
    text = example("storm-tray") + CLASS
    files_by_path = {file.path: file.data for file in pack(read_project(text), text).files}
    for path in ("score-plan.pdf", "templates.pdf"):
        for page in pypdf.PdfReader(io.BytesIO(files_by_path[path])).pages:
            assert ENGLISH.paper.class_version in page.extract_text(), path
    full = {file.path: file.data for file in pack(read_project(example("storm-tray")), example("storm-tray")).files}
    for path in ("cut/tray.svg", "cut/tray.dxf"):
        assert (
            ENGLISH.paper.class_version.encode() in files_by_path[path]
            and ENGLISH.paper.class_version.encode() not in full[path]
        )


def test_the_hole_guide_says_what_version_it_is():
    measured = measure(read_project(example("tidepool") + CLASS))
    (lid,) = lids_of(prove(measured))
    pages = sheets._hole_guide(measured.project, lid, False, language=ENGLISH)
    assert all(ENGLISH.paper.class_version in [getattr(mark, "text", "") for mark in page.marks] for page in pages)
    assert all(page.alt.startswith(ENGLISH.paper.class_version) for page in pages)
