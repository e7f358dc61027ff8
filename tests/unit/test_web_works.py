"""Computing beside the server: answers kept, questions overtaken, processes that hang, and long work with an end."""

import asyncio
import os
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from foldproof.errors import InputError
from foldproof.web.long_works import MOST_RUNNING, LongWorks, TooMany
from foldproof.web.works import AT_ONCE, LATER, MOST_KEPT_BYTES, Kept, Superseded, TooSlow, Works

JOBS = '''
import os, time
from foldproof.errors import wrong
from foldproof.progress import Stopped

def counted(payload):
    """Writes a line for each time it is asked, and answers with the payload backwards."""
    with open(payload.decode(), "a") as told:
        told.write("asked\\n")
    return payload[::-1]

def process(payload):
    return str(os.getpid()).encode()

def slow(payload):
    seconds, _, path = payload.decode().partition(" ")
    if path:
        open(path, "a").write("begun\\n")
    time.sleep(float(seconds))
    return payload

def refuses(payload):
    raise wrong("size", payload.decode(), "is no size", "write one")

def dies(payload):
    os._exit(3)

def long(payload, progress):
    for number in range(200):
        if not progress("fold", number, 200):
            raise Stopped
        time.sleep(float(payload))
    return b"whole"

def quick(payload, progress):
    assert progress("fold", 1, 2)
    return payload + b"!"

def long_wrong(payload, progress):
    raise wrong("size", "x", "is no size", "write one")

def long_dies(payload, progress):
    os._exit(3)

def deaf(payload, progress):
    time.sleep(60)
    return b""
'''
LONGEST_S = 20.0  # until a process that was started has done what takes it no time
READY = "works_jobs:process"


@pytest.fixture
def jobs(tmp_path, monkeypatch):
    """A module of jobs that the processes can import."""
    (tmp_path / "works_jobs.py").write_text(JOBS)
    monkeypatch.syspath_prepend(str(tmp_path))
    return lambda name: f"works_jobs:{name}"


def with_works(doing, *, seconds=LONGEST_S, workers=2):
    """Runs what is done with warm works, and ends them."""

    async def run():
        works = Works(workers, LONGEST_S)
        await works.warm(READY)
        works._seconds = seconds
        try:
            return await doing(works)
        finally:
            works.close()

    # A thread of its own: a browser that another test holds open has this thread's loop.
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, run()).result()


def test_the_same_question_is_worked_out_once(jobs, tmp_path):
    told = tmp_path / "asked"
    payload = str(told).encode()

    async def doing(works):
        assert works.kept(jobs("counted"), payload) is None
        found = await asyncio.gather(*(works.run(jobs("counted"), payload) for _ in range(5)))
        found.append(await works.run(jobs("counted"), payload))
        assert works.kept(jobs("counted"), payload) == payload[::-1]
        return found

    assert with_works(doing) == [payload[::-1]] * 6
    assert told.read_text() == "asked\n"


def test_what_a_job_refuses_is_told_and_not_kept(jobs):
    async def doing(works):
        for _ in range(2):
            with pytest.raises(InputError) as told:
                await works.run(jobs("refuses"), b"a banana")
            assert told.value.problems[0].value == "a banana"
        assert works.kept(jobs("refuses"), b"a banana") is None

    with_works(doing)


def test_a_newer_question_on_the_same_thing_overtakes_one_that_nobody_began_with(jobs, tmp_path):
    async def doing(works):
        busy = asyncio.ensure_future(works.run(jobs("slow"), b"0.4", topic="other"))
        older = asyncio.ensure_future(works.run(jobs("slow"), f"0 {tmp_path / 'older'}".encode(), topic="proof"))
        await asyncio.sleep(0.05)
        newer = works.run(jobs("slow"), b"0", topic="proof")
        assert await newer == b"0"
        with pytest.raises(Superseded):
            await older
        assert await busy == b"0.4", "what was begun is finished"

    with_works(doing)
    assert not (tmp_path / "older").exists()


def test_what_a_page_waits_for_does_not_wait_for_what_may_follow(jobs):
    async def doing(works):
        following = [asyncio.ensure_future(works.run(jobs("slow"), b"0.5 ", rank=LATER, near=str(n))) for n in range(2)]
        await asyncio.sleep(0.02)
        began = time.monotonic()
        await works.run(jobs("process"), b"now", rank=AT_ONCE)
        waited = time.monotonic() - began
        await asyncio.gather(*following)
        return waited

    assert with_works(doing) < 0.4


def test_what_is_near_an_earlier_question_goes_to_the_process_that_knows_it(jobs):
    async def doing(works):
        first = {near: await works.run(jobs("process"), near.encode(), near=near) for near in "abcd"}
        again = {near: await works.run(jobs("process"), near.encode() * 2, near=near) for near in "dcba"}
        return first, again

    first, again = with_works(doing, workers=3)
    assert first == again


def test_a_process_that_hangs_is_ended_and_the_next_question_is_answered(jobs):
    async def doing(works):
        before = await works.run(jobs("process"), b"before")
        began = time.monotonic()
        with pytest.raises(TooSlow):
            await works.run(jobs("slow"), b"60")
        assert time.monotonic() - began < LONGEST_S / 2
        works._seconds = LONGEST_S
        after = await works.run(jobs("process"), b"after")
        with pytest.raises(ProcessLookupError):
            os.kill(int(before), 0)
        return before, after

    before, after = with_works(doing, seconds=0.3)
    assert before != after


def test_a_process_that_dies_is_replaced(jobs):
    async def doing(works):
        with pytest.raises(Exception, match="terminated"):
            await works.run(jobs("dies"), b"")
        return await works.run(jobs("slow"), b"0")

    assert with_works(doing) == b"0"


def test_the_oldest_answers_go_when_there_are_too_many():
    kept = Kept()
    third = b"x" * (MOST_KEPT_BYTES // 3)
    for key in "abc":
        kept.put(key, third)
    assert kept.get("a") is not None, "and it is the one asked for last now"
    kept.put("d", third)
    assert kept.get("b") is None
    assert all(kept.get(key) is not None for key in "acd")
    kept.put("a", b"")
    kept.put("e", third)
    assert kept.get("c") is not None, "an answer that was replaced takes no room twice"


# --- Long work ----------------------------------------------------------------------------------------------


@pytest.fixture
def long_works():
    works = LongWorks()
    yield works
    works.close()


def until(done):
    end = time.monotonic() + LONGEST_S
    while not done():
        assert time.monotonic() < end, "it does not come to an end"
        time.sleep(0.02)


def test_long_work_tells_what_it_is_at_and_gives_its_result(jobs, long_works):
    work = long_works.get(long_works.start(jobs("quick"), b"all"))
    until(lambda: work.state != "working")
    assert (work.state, work.result) == ("done", b"all!")
    assert (work.stage, work.done, work.total) == ("fold", 1, 2)


def test_long_work_is_stopped_in_the_middle_and_gives_nothing(jobs, long_works):
    name = long_works.start(jobs("long"), b"0.05")
    work = long_works.get(name)
    until(lambda: work.done > 1)
    long_works.stop(name)
    until(lambda: not work.process.is_alive())
    assert (work.state, work.result) == ("stopped", b"")
    assert work.done < 199


def test_long_work_that_does_not_listen_is_ended(jobs, long_works, monkeypatch):
    monkeypatch.setattr("foldproof.web.long_works.LEAVE_SECONDS", 0.2)
    name = long_works.start(jobs("deaf"), b"")
    long_works.stop(name)
    work = long_works.get(name)
    until(lambda: not work.process.is_alive())
    assert work.state == "stopped"


@pytest.mark.parametrize(("job", "fields"), [("long_wrong", ["size"]), ("long_dies", [])])
def test_long_work_that_fails_says_so(jobs, long_works, job, fields):
    work = long_works.get(long_works.start(jobs(job), b""))
    until(lambda: work.state != "working")
    assert work.state == "failed"
    assert [each.field for each in work.problems] == fields


def test_no_more_long_works_than_the_machine_is_asked_for(jobs, long_works):
    names = [long_works.start(jobs("deaf"), b"") for _ in range(MOST_RUNNING)]
    with pytest.raises(TooMany):
        long_works.start(jobs("quick"), b"")
    long_works.stop(names[0])
    assert long_works.get(long_works.start(jobs("quick"), b"")) is not None
    assert long_works.get(names[0]) is None, "one that has ended makes room"
    assert long_works.get("no such work") is None
