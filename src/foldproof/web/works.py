"""Computing beside the server: questions by a few processes that stay, long work each in a process of its own.

The server itself only reads, saves and answers, so a page stays quick while another one's box is being proved. One
process is kept for what a page waits for after every edit; the others, which give way to it, do all that may follow.
"""

from __future__ import annotations

import asyncio
import hashlib
import multiprocessing
import time
from collections import OrderedDict
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from typing import Any

from foldproof.errors import InputError, Problem
from foldproof.web.long_works import LongWorks
from foldproof.web.processes import answer_to, settle_process

AT_ONCE, SOON, LATER = 0, 1, 2  # what is asked for first
MOST_KEPT_BYTES = 64_000_000  # of answers kept, oldest out first
STUCK_SECONDS = 1.0  # a question after an edit takes a tenth of that: when one takes longer, others take its place
KNOWN = 8  # texts a process is known to have looked at last: what follows on one of them goes to that process


class TooSlow(Exception):
    """A question took longer than one may; its process was ended."""


class Superseded(Exception):
    """A newer question on the same thing came before anybody had begun with this one."""


class Kept:
    """Answers by question, the ones asked for last at the end."""

    def __init__(self) -> None:
        self._answers: OrderedDict[str, bytes] = OrderedDict()
        self._size = 0

    def get(self, key: str) -> bytes | None:
        """The answer to a question, if it is kept."""
        found = self._answers.get(key)
        if found is not None:
            self._answers.move_to_end(key)
        return found

    def put(self, key: str, answer: bytes) -> None:
        """Keeps an answer, and lets the oldest go when there are too many."""
        self._size += len(answer) - len(self._answers.pop(key, b""))
        self._answers[key] = answer
        while self._size > MOST_KEPT_BYTES and len(self._answers) > 1:
            _, oldest = self._answers.popitem(last=False)
            self._size -= len(oldest)


class _Question:
    """A question that is waiting or being worked on."""

    def __init__(self, job: str, payload: bytes, *, rank: int, near: str, answer: asyncio.Future[bytes]) -> None:
        self.job, self.payload, self.rank, self.near, self.answer = job, payload, rank, near, answer


class _Lane:
    """A process that answers one question at a time."""

    def __init__(self, *, first: bool) -> None:
        self.first = first
        self.question: _Question | None = None
        self.since = 0.0
        self.known: OrderedDict[str, None] = OrderedDict()
        self._begin()

    def _begin(self) -> None:
        context = multiprocessing.get_context("spawn")
        self._pool = ProcessPoolExecutor(1, mp_context=context, initializer=settle_process, initargs=(not self.first,))

    def ask(self, question: _Question) -> asyncio.Future[bytes | tuple[Problem, ...]]:
        """Begins with a question. The process may have ended since the last one: then there is a new one."""
        self.question, self.since = question, time.monotonic()
        if question.near:
            self.known[question.near] = None
            self.known.move_to_end(question.near)
            if len(self.known) > KNOWN:
                self.known.popitem(last=False)
        try:
            return asyncio.wrap_future(self._pool.submit(answer_to, question.job, question.payload))
        except BrokenProcessPool:
            self.begin_again()
            return asyncio.wrap_future(self._pool.submit(answer_to, question.job, question.payload))

    def begin_again(self) -> None:
        """Ends the process, whatever it is at, and makes a new one."""
        self.end()
        self.known.clear()
        self._begin()

    def end(self) -> None:
        """Ends the process."""
        for process in list((self._pool._processes or {}).values()):
            process.kill()
        self._pool.shutdown(wait=False, cancel_futures=True)


class Works:
    """Processes that answer questions. A job is named "package.module:function", from bytes to bytes.

    A question asked twice is worked out once: answers depend on the question alone. Used from one event loop.
    """

    def __init__(self, workers: int, seconds: float) -> None:
        assert workers >= 2, "one for what pages wait for, and one for what follows"
        self._seconds = seconds
        self._lanes = tuple(_Lane(first=number == 0) for number in range(workers))
        self._kept = Kept()
        self._asked: dict[str, _Question] = {}
        self._waiting: list[str] = []
        self._newest: dict[str, str] = {}
        self.long = LongWorks()

    async def run(self, job: str, payload: bytes, *, rank: int = SOON, topic: str = "", near: str = "") -> bytes:
        """The job's bytes for a payload. Raises InputError as the job does, TooSlow, or Superseded.

        With a ``topic`` a question that nobody has begun with is dropped when a newer one on it comes. What is
        ``near`` to an earlier question goes to the process that answered that one, which remembers what it did.
        """
        key = hashlib.sha256(job.encode() + b"\0" + payload).hexdigest()
        kept = self._kept.get(key)
        if kept is not None:
            return kept
        if topic:
            self._supersede(self._newest.get(topic, ""), key)
            self._newest[topic] = key
        if key not in self._asked:
            answer = asyncio.get_running_loop().create_future()
            answer.add_done_callback(_looked_at)
            self._asked[key] = _Question(job, payload, rank=rank, near=near, answer=answer)
            self._waiting.append(key)
            self._begin_what_can()
        return await asyncio.shield(self._asked[key].answer)

    def kept(self, job: str, payload: bytes) -> bytes | None:
        """The answer to a question that was asked before, or None."""
        return self._kept.get(hashlib.sha256(job.encode() + b"\0" + payload).hexdigest())

    def _supersede(self, older: str, key: str) -> None:
        if older != key and older in self._waiting:
            self._waiting.remove(older)
            self._asked.pop(older).answer.set_exception(Superseded())

    def _begin_what_can(self) -> None:
        """Gives every free process the question that comes first for it."""
        for lane in self._lanes:
            if lane.question is None:
                key = min((key for key in self._waiting if self._suits(lane, key)), key=self._rank, default=None)
                if key is not None:
                    self._waiting.remove(key)
                    lane.question = self._asked[key]
                    asyncio.get_running_loop().create_task(self._answer(lane, key))

    def _rank(self, key: str) -> int:
        return self._asked[key].rank

    def _suits(self, lane: _Lane, key: str) -> bool:
        question = self._asked[key]
        if question.rank == AT_ONCE:
            since = self._lanes[0].since
            return lane.first or 0.0 < since < time.monotonic() - STUCK_SECONDS
        if lane.first:
            return False
        nearest = next((each for each in self._lanes if question.near in each.known), lane)
        return not question.near or nearest is lane

    async def _answer(self, lane: _Lane, key: str) -> None:
        """Has a process answer a question, and gives the answer to all who wait for it."""
        asked, answer = lane.ask(self._asked[key]), self._asked[key].answer
        asked.add_done_callback(_looked_at)
        done, _ = await asyncio.wait({asked}, timeout=self._seconds)
        error = asked.exception() if done else TooSlow()
        if isinstance(error, TooSlow | BrokenProcessPool):
            lane.begin_again()
        if error is not None:
            answer.set_exception(error)
        else:
            self._take(key, asked.result(), answer)
        lane.question, lane.since = None, 0.0
        self._asked.pop(key, None)
        self._begin_what_can()

    def _take(self, key: str, told: bytes | tuple[Problem, ...], answer: asyncio.Future[bytes]) -> None:
        if isinstance(told, bytes):
            self._kept.put(key, told)
            answer.set_result(told)
        else:
            answer.set_exception(InputError(told))

    async def warm(self, job: str) -> None:
        """Has every process import what it needs before anyone asks; the job does nothing else.

        The one that pages wait for comes first and alone: it has the whole machine, and the first page is soon there.
        """
        await asyncio.gather(self.run(job, b"0", rank=AT_ONCE), return_exceptions=True)
        others = (self.run(job, b"%d" % number) for number in range(1, len(self._lanes)))
        await asyncio.gather(*others, return_exceptions=True)

    def close(self) -> None:
        """Ends all processes."""
        self.long.close()
        for lane in self._lanes:
            lane.end()


def _looked_at(answer: asyncio.Future[Any]) -> None:
    """An answer nobody waits for any more is no fault of anybody's."""
    if not answer.cancelled():
        answer.exception()
