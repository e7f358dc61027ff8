"""Many windows on one project at once, as threads and as processes: no edit is lost, and none is written over."""

import subprocess
import sys
import threading
from importlib import resources

from foldproof.project.syntax import parse_toml
from foldproof.project.write import with_change
from foldproof.service.keeping import Clashed, kept, open_kept, save, start, text_of, versions
from foldproof.service.keeping.lock import locked

BOX = (resources.files("foldproof") / "examples" / "gale-lid.toml").read_text(encoding="utf-8")
ID, NOW = "gale-lid", "2031-05-04T09:00:00Z"

PROCESS = """
import sys
from pathlib import Path
from foldproof.project.write import with_change
from foldproof.service.keeping import open_kept, save
folder, path = Path(sys.argv[1]), sys.argv[2]
opened = open_kept(folder, "gale-lid")
version, text = opened.version, opened.text
print("ready", flush=True)
sys.stdin.readline()
for written in sys.argv[3:]:
    saved = save(folder, "gale-lid", with_change(text, path, written), version, when="2031-05-04T09:00:00Z")
    version, text = saved.version, saved.text
"""
HANDS = {
    "parts.tray.wall_height": ["2", "2 1/8", "2 3/8"],
    "cardstock.fill": ["#111111", "#222222", "#333333"],
    "parts.lid.layers.2.colour": ["one", "two", "three"],
}


def at(text, path):
    found = parse_toml(text)
    for step in path.split("."):
        found = found[int(step) - 1] if step.isdigit() else found[step]
    return found


def test_processes(tmp_path):
    start(tmp_path, BOX, when=NOW)
    hands = [
        subprocess.Popen(
            [sys.executable, "-c", PROCESS, str(tmp_path), path, *written],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for path, written in HANDS.items()
    ]
    for hand in hands:
        assert hand.stdout.readline() == "ready\n"
    for hand in hands:
        hand.stdin.write("go\n")
        hand.stdin.flush()
    for hand in hands:
        hand.communicate()
        assert hand.returncode == 0
    texts = [text_of(tmp_path, ID, each.number) for each in versions(tmp_path, ID)]
    assert len(texts) == 1 + sum(map(len, HANDS.values()))
    for path, written in HANDS.items():
        first = at(BOX, path)
        seen = [at(text, path) for text in texts]
        assert list(dict.fromkeys(seen)) == [first, *written]  # in order, and never back
        assert at(open_kept(tmp_path, ID).text, path) == written[-1]


def test_threads(tmp_path):
    """Twenty windows opened at one version each change the name of their own layer: all twenty names are there."""
    rows = "".join(f'[[parts.lid.layers]]\nacross = "4"\ncolour = "c{n}"\n\n' for n in range(20))
    text = BOX[: BOX.index("[[parts.lid.layers]]")] + rows + BOX[BOX.index("[extra.demo]") :]
    start(tmp_path, text, when=NOW)
    outcomes = []

    def change(number):
        mine = with_change(text, f"parts.lid.layers.{number}.colour", f"new {number}")
        outcomes.append(save(tmp_path, ID, mine, 1, when=NOW))

    threads = [threading.Thread(target=change, args=(number,)) for number in range(1, 21)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not any(isinstance(each, Clashed) for each in outcomes)
    assert sorted(each.version for each in outcomes) == list(range(2, 22))
    layers = parse_toml(open_kept(tmp_path, ID).text)["parts"]["lid"]["layers"]
    assert [row["colour"] for row in layers] == [f"new {number}" for number in range(1, 21)]


def test_new_projects_of_one_name_get_ids_of_their_own(tmp_path):
    threads = [threading.Thread(target=start, args=(tmp_path, BOX), kwargs={"when": NOW}) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len({each.id for each in kept(tmp_path)}) == 6


def test_looking_waits_for_nobody(tmp_path):
    start(tmp_path, BOX, when=NOW)
    with locked(tmp_path):
        assert open_kept(tmp_path, ID).version == 1
        assert len(kept(tmp_path)) == len(versions(tmp_path, ID)) == 1


def test_a_lock_ends_with_the_process_that_holds_it(tmp_path):
    holding = subprocess.Popen(
        [
            sys.executable,
            "-c",
            "import pathlib, sys, time\n"
            "from foldproof.service.keeping.lock import locked\n"
            "with locked(pathlib.Path(sys.argv[1])):\n"
            "    print('held', flush=True)\n"
            "    time.sleep(60)\n",
            str(tmp_path),
        ],
        stdout=subprocess.PIPE,
        text=True,
    )
    assert holding.stdout.readline() == "held\n"
    holding.kill()
    holding.communicate()
    assert start(tmp_path, BOX, when=NOW) == ID


def test_a_lock_that_is_held_too_long_is_told(tmp_path, monkeypatch):
    import pytest

    from foldproof.errors import InputError

    monkeypatch.setattr("foldproof.service.keeping.lock.WAIT_SECONDS", 0.1)
    with locked(tmp_path):
        refused = []

        def other():
            with pytest.raises(InputError, match="is being written by another"):
                start(tmp_path, BOX, when=NOW)
            refused.append(True)

        thread = threading.Thread(target=other)
        thread.start()
        thread.join()
    assert refused == [True]
