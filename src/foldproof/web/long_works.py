"""Long work beside the server, each in a process of its own, with what it is at and a way to end it."""

from __future__ import annotations

import multiprocessing
import secrets
import threading
from collections import OrderedDict
from multiprocessing.connection import Connection
from multiprocessing.synchronize import Event
from typing import Literal

from foldproof.errors import InputError, Problem
from foldproof.progress import Progress, Stopped
from foldproof.web.processes import named, settle_process

State = Literal["working", "done", "stopped", "failed"]

MOST_RUNNING = 8  # long works kept at a time, finished ones among them
LEAVE_SECONDS = 5.0  # how long one that was stopped may take to put its things away


class TooMany(Exception):
    """More long works are under way than the machine is asked to do at a time."""


class Running:
    """A long work under way: what it is at, and what came of it."""

    def __init__(self, process: multiprocessing.process.BaseProcess, stop: Event) -> None:
        self.process, self.stop_asked = process, stop
        self.state: State = "working"
        self.stage, self.done, self.total = "", 0, 0
        self.result = b""
        self.problems: tuple[Problem, ...] = ()


class LongWorks:
    """The long works of one workbench."""

    def __init__(self) -> None:
        self._context = multiprocessing.get_context("spawn")
        self._running: OrderedDict[str, Running] = OrderedDict()

    def start(self, job: str, payload: bytes) -> str:
        """Begins a long job, "package.module:function" from bytes and a Progress to bytes; its name to ask with.

        Raises TooMany when as many are under way as may be.
        """
        for name in [name for name, work in self._running.items() if work.state != "working"]:
            if len(self._running) >= MOST_RUNNING:
                del self._running[name]
        if len(self._running) >= MOST_RUNNING:
            raise TooMany
        receiver, sender = self._context.Pipe(duplex=False)
        stop = self._context.Event()
        process = self._context.Process(target=_work, args=(sender, stop, job, payload), daemon=True)
        process.start()
        sender.close()
        running = Running(process, stop)
        name = secrets.token_urlsafe(12)
        self._running[name] = running
        threading.Thread(target=_listen, args=(running, receiver), daemon=True).start()
        return name

    def get(self, name: str) -> Running | None:
        """A long work by its name, or None."""
        return self._running.get(name)

    def stop(self, name: str) -> None:
        """Asks a long work to end, and ends it when it does not; what it was making is dropped."""
        running = self._running.get(name)
        if running is not None and running.state == "working":
            running.state = "stopped"
            running.stop_asked.set()

    def close(self) -> None:
        """Ends all of them at once."""
        for running in self._running.values():
            if running.process.is_alive():
                running.process.kill()


def _work(sender: Connection, stop: Event, job: str, payload: bytes) -> None:
    settle_process(True)

    def progress(stage: str, done: int, total: int) -> bool:
        sender.send(("at", (stage, done, total)))
        return not stop.is_set()

    watched: Progress = progress
    try:
        sender.send(("done", named(job)(payload, watched)))
    except InputError as error:
        sender.send(("wrong", error.problems))
    except Stopped:
        sender.send(("stopped", b""))


def _listen(running: Running, receiver: Connection) -> None:
    """Keeps what a long work tells until it ends; one that ends without a word has failed."""
    try:
        while True:
            if running.stop_asked.is_set() and not receiver.poll(LEAVE_SECONDS):
                break
            if not receiver.poll(0.1):
                continue
            kind, told = receiver.recv()
            if running.state != "working":
                continue
            match kind:
                case "at":
                    running.stage, running.done, running.total = told
                case "done":
                    running.result, running.state = told, "done"
                case "wrong":
                    running.problems, running.state = told, "failed"
                case _:
                    running.state = "stopped"
    except (EOFError, OSError):
        if running.state == "working":
            running.state = "failed"
    finally:
        receiver.close()
        running.process.join(LEAVE_SECONDS)
        if running.process.is_alive():
            running.process.kill()
