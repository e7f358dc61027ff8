import os
import signal
import sys

import pytest

from foldproof.cli import watch as module
from foldproof.cli.watch import Watch


def test_the_first_ctrl_c_asks_and_the_second_stops_at_once(capsys):
    before = signal.getsignal(signal.SIGINT)
    with Watch() as watch:
        assert watch("orders", 0, 1)
        os.kill(os.getpid(), signal.SIGINT)
        assert watch.stopped
        assert not watch("orders", 1, 1)
        with pytest.raises(KeyboardInterrupt):
            os.kill(os.getpid(), signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) == before
    assert "again to stop at once" in capsys.readouterr().err


def test_time_that_is_over_stops(monkeypatch):
    now = [100.0]
    monkeypatch.setattr("time.monotonic", lambda: now[0])
    with Watch(5.0) as watch:
        assert watch("orders", 0, 2)
        now[0] = 104.9
        assert watch("orders", 1, 2)
        now[0] = 105.0
        assert not watch("orders", 2, 2)
    assert watch.stopped


def test_a_terminal_is_shown_the_stage_and_nothing_else_is(monkeypatch, capsys):
    monkeypatch.setattr(module, "SHOW_AFTER_S", 0.0)
    with Watch() as watch:
        watch("orders", 0, 2)
    assert capsys.readouterr().err == ""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    with Watch() as watch:
        for stage in ("orders", "mend", "sheets", "pictures", "files"):
            assert watch(stage, 0, 2)
    assert capsys.readouterr().out == ""
