"""Packs for the left hand and for a class, and the booklet for the printer."""

import json

import pypdf
import pytest

HOT = 'glue = "hot glue"'
NOTICE = "Class version: no hot glue."
ASK = "Ask the teacher to cut, or use scissors."


@pytest.fixture(scope="module")
def hot(tmp_path_factory, examples):
    """The shell tray with hot glue, as a file."""
    text = examples["shell-tray"].read_text(encoding="utf-8")
    path = tmp_path_factory.mktemp("hot") / "hot.toml"
    path.write_text(text.replace("[parts.tray]\n", f"[parts.tray]\n{HOT}\n", 1), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def left(run, tmp_path_factory, examples):
    folder = tmp_path_factory.mktemp("left") / "pack"
    return folder, run("pack", examples["shell-tray"], "-o", folder, "--hand", "left")


@pytest.fixture(scope="module")
def taught(run, tmp_path_factory, hot):
    folder = tmp_path_factory.mktemp("class") / "pack"
    return folder, run("pack", hot, "-o", folder, "--class")


def pdf_text(path):
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(path).pages).split())


def test_left_handed_drawings_have_the_words_of_the_others(left, packs, contents_of):
    folder, ran = left
    assert ran.code == 0
    drawn, right = contents_of(folder), contents_of(packs["shell-tray"][0])
    assert set(drawn) == set(right)
    assert drawn["steps.md"] == right["steps.md"]
    assert drawn["measures.txt"] == right["measures.txt"]
    changed = {path for path in drawn if path.endswith(".svg") and drawn[path] != right[path]}
    assert {"pictures/step-05.svg", "pictures/finished.svg"} <= changed
    assert not any(path.startswith("cut/") for path in changed)
    assert drawn["table-card.pdf"] != right["table-card.pdf"]
    assert drawn["folded.glb"] == right["folded.glb"]


def test_the_packs_project_packs_the_same_again(run, left, contents_of, tmp_path):
    again = run("pack", left[0] / "project.toml", "-o", tmp_path / "again")
    assert again.code == 0
    assert contents_of(tmp_path / "again") == contents_of(left[0])


def test_asking_for_what_the_file_says_changes_nothing(run, examples, packs, contents_of, tmp_path):
    run("pack", examples["shell-tray"], "-o", tmp_path / "right", "--hand", "right")
    assert contents_of(tmp_path / "right") == contents_of(packs["shell-tray"][0])


def test_a_class_has_no_hot_glue_anywhere_and_every_paper_says_so(taught, contents_of):
    folder, ran = taught
    assert ran.code == 0
    files = contents_of(folder)
    for path in ("steps.md", "measures.txt", "post.md", "booklet.html"):
        text = files[path].decode().replace("\\", "")
        assert NOTICE in text, path
        assert text.lower().count("hot glue") == text.count(NOTICE) + text.count("takes the place of hot glue"), path
    for path in ("booklet.pdf", "booklet-print.pdf", "table-card.pdf"):
        text = pdf_text(folder / path)
        assert NOTICE in text, path
        assert text.lower().count("hot glue") == text.count(NOTICE) + text.count("takes the place of hot glue"), path
    assert ASK in files["steps.md"].decode().replace("\\", "") and ASK in pdf_text(folder / "booklet.pdf")
    assert "wet glue takes the place of hot glue" in files["proof.txt"].decode()
    assert b'version = "class"' in files["project.toml"]
    assert HOT in files["project.toml"].decode()  # what the maker wrote stays


def test_a_full_version_names_no_class(packs, contents_of):
    for path, data in contents_of(packs["shell-tray"][0]).items():
        if path.endswith((".md", ".txt", ".html")):
            assert b"Class version" not in data and ASK.encode() not in data, path


def test_the_class_is_proved_by_every_command(run, hot, tmp_path):
    path = tmp_path / "class.toml"
    path.write_text(hot.read_text(encoding="utf-8") + '\n[teach]\nversion = "class"\n', encoding="utf-8")
    told = run("prove", path, "--json").report
    assert "class version: wet glue takes the place of hot glue" in [each["text"] for each in told["assumptions"]]
    assert NOTICE in run("measure", path).out
    assert NOTICE not in run("measure", hot).out


def test_the_booklet_for_the_printer_has_every_page_on_sheets_on_their_side(packs):
    folder = packs["tidepool"][0]
    booklet, printed = (pypdf.PdfReader(folder / name) for name in ("booklet.pdf", "booklet-print.pdf"))
    assert len(printed.pages) == 2 * -(-len(booklet.pages) // 4)
    assert {tuple(map(float, page.mediabox[2:])) for page in printed.pages} == {(792.0, 612.0)}  # Letter on its side
    words = sorted(word for page in booklet.pages for word in page.extract_text().split())
    assert sorted(word for page in printed.pages for word in page.extract_text().split()) == words
    assert printed.metadata.title == booklet.metadata.title
    metric = pypdf.PdfReader(packs["pebble-metric"][0] / "booklet-print.pdf")
    size = [float(edge) for edge in metric.pages[0].mediabox[2:]]
    assert size == pytest.approx([297.0 * 72.0 / 25.4, 210.0 * 72.0 / 25.4], abs=0.001)


def test_the_printers_booklet_is_listed_and_named(packs):
    folder, ran = packs["shell-tray"]
    listed = json.loads((folder / "pack.json").read_text(encoding="utf-8"))["files"]
    assert "booklet-print.pdf" in {file["path"] for file in listed}
    assert "booklet-print.pdf" in ran.out


def test_help_and_wrong_hands(run, examples, tmp_path):
    told = " ".join(run("pack", "--help").out.split())
    assert "--hand [right|left]" in told and "--class" in told
    ran = run("pack", examples["shell-tray"], "-o", tmp_path / "no", "--hand", "both")
    assert ran.code == 2 and "left" in ran.err
    assert not (tmp_path / "no").exists()


@pytest.mark.parametrize(
    ("line", "field", "remedy"),
    [
        ('hand = "both"', "teach.hand", "left"),
        ('version = "school"', "teach.version", "class"),
        ('hnad = "left"', "teach.hnad", "hand"),
        ("hand = 2", "teach.hand", "quotes"),
    ],
)
def test_wrong_settings_are_told(run, examples, tmp_path, line, field, remedy):
    path = tmp_path / "wrong.toml"
    path.write_text(f"{examples['shell-tray'].read_text(encoding='utf-8')}\n[teach]\n{line}\n", encoding="utf-8")
    ran = run("prove", path, "--json")
    assert ran.code == 2
    (problem,) = ran.report["problems"]
    assert problem["field"] == field and remedy in problem["remedy"]
