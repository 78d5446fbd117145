"""Sessions of the pages at once, without a browser: each speaks the pages' own websocket.

What is timed is a click as the server has it: asked, worked out, and all of the answer received.
Twenty browsers on the machine that also runs the server would mostly time one another's drawing.
"""

import threading
import time
from dataclasses import dataclass, field

import numpy as np
from pages_server import PATIENCE_S
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from websockets.sync.client import connect

EVERY_S = 10.0
"""From a click to the next one of the same person. [s]"""


@dataclass
class Visit:
    """What one asks for: page, what stands in its address, and what the answer must hold."""

    page: str
    asked: str
    holds: str


@dataclass
class Told:
    """What all sessions met."""

    seconds: list[float] = field(default_factory=list)
    bytes: list[int] = field(default_factory=list)
    by_page: dict[str, list[float]] = field(default_factory=dict)
    errors: list[str] = field(default_factory=list)
    lock: threading.Lock = field(default_factory=threading.Lock)


def click(socket, visit: Visit) -> tuple[float, int]:
    """Ask for a page as it would be after a click; return the seconds, and the bytes that came."""
    asked = BackMsg()
    asked.rerun_script.query_string = visit.asked
    asked.rerun_script.page_name = visit.page
    begun, came, held = time.perf_counter(), 0, False
    socket.send(asked.SerializeToString())
    while True:
        part = socket.recv(timeout=PATIENCE_S)
        came += len(part)
        held = held or visit.holds.encode() in part
        said = ForwardMsg.FromString(part)
        kind = said.WhichOneof("type")
        if kind == "delta" and said.delta.new_element.WhichOneof("type") == "exception":
            raise AssertionError(f"{visit.page}: {said.delta.new_element.exception.message}")
        if kind == "script_finished":
            if said.script_finished != ForwardMsg.FINISHED_SUCCESSFULLY:
                continue  # it begins again by itself, as after a change of the address
            assert held, f"/{visit.page}?{visit.asked} did not show {visit.holds!r}"
            return time.perf_counter() - begun, came


def one_session(address: str, visits: list[Visit], seed: int, end: float, told: Told) -> None:
    """Open the pages, and click every ten seconds until the end."""
    draw = np.random.default_rng(seed)
    url = f"{address.replace('http', 'ws', 1)}/_stcore/stream"
    time.sleep(draw.uniform(0, EVERY_S))
    try:
        with connect(url, subprotocols=["streamlit"], max_size=None) as socket:
            while (begun := time.monotonic()) < end:
                visit = visits[draw.integers(len(visits))]
                try:
                    seconds, came = click(socket, visit)
                except AssertionError as error:
                    with told.lock:
                        told.errors.append(str(error))
                else:
                    with told.lock:
                        told.seconds.append(seconds)
                        told.bytes.append(came)
                        told.by_page.setdefault(visit.page, []).append(seconds)
                time.sleep(max(0.0, begun + EVERY_S - time.monotonic()))
    except (OSError, TimeoutError) as error:
        with told.lock:
            told.errors.append(repr(error))


def sessions_at_once(
    address: str, visits: list[Visit], count: int, minutes: float, each_minute
) -> Told:
    """Let so many sessions click for so long; what is to be done each minute is done beside."""
    told, begun = Told(), time.monotonic()
    end = begun + 60 * minutes
    threads = [
        threading.Thread(target=one_session, args=(address, visits, seed, end, told))
        for seed in range(count)
    ]
    for thread in threads:
        thread.start()
    minute = 0
    while any(thread.is_alive() for thread in threads):
        if time.monotonic() >= begun + 60 * minute:
            each_minute(minute, told)
            minute += 1
        time.sleep(0.2)
    each_minute(minutes, told)
    return told
