"""A cable on loopback that can be cut at any byte: what one side says is passed on to the other until it is."""

import socket
import struct
import threading
from types import TracebackType
from typing import Self

HOST = "127.0.0.1"
CHUNK = 65_536
HANG_UP = struct.pack("ii", 1, 0)  # SO_LINGER of 0 s: closing sends a reset, as a router that lost its memory does


class Relay:
    """Listens on a port of its own and passes everything on to `target`, until a cut. Safe to use from any thread."""

    def __init__(self, target: int) -> None:
        self._target = target
        self._lock = threading.Lock()
        self._armed: tuple[bytes, int, bool] | None = None
        self._counting: _Cable | None = None
        self._cables: set[_Cable] = set()
        self._closing = False
        self.cuts = 0
        self._door = socket.create_server((HOST, 0))
        self.port: int = self._door.getsockname()[1]
        self._threads = [threading.Thread(target=self._listen, daemon=True)]
        self._threads[0].start()

    def cut_after(self, size: int, *, hard: bool, saying: bytes = b"") -> None:
        """Cut the next cable on which one side says this, so many bytes (both ways together) behind it; no words: the
        next cable on which anything is said. hard: by a reset; else as if the other side had closed."""
        with self._lock:
            self._armed, self._counting = (saying, size, hard), None

    def cut_now(self) -> None:
        """Cut everything that stands."""
        with self._lock:
            cables = list(self._cables)
        for cable in cables:
            cable.cut(hard=True)

    @property
    def is_armed(self) -> bool:
        """Whether a cut is still to come."""
        return self._armed is not None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._closing = True
        self._door.shutdown(socket.SHUT_RDWR)
        self._door.close()
        self.cut_now()
        for thread in self._threads:
            thread.join()

    def _listen(self) -> None:
        while not self._closing:
            try:
                near, _ = self._door.accept()
            except OSError:
                return
            try:
                far = socket.create_connection((HOST, self._target))
            except OSError:  # nobody there
                near.close()
                continue
            for one in (near, far):
                one.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            cable = _Cable(near, far)
            with self._lock:
                self._cables.add(cable)
            self._threads = [thread for thread in self._threads if thread.is_alive()]
            for ends in ((near, far), (far, near)):
                thread = threading.Thread(target=self._pass_on, args=(cable, *ends), daemon=True)
                self._threads.append(thread)
                thread.start()

    def _pass_on(self, cable: "_Cable", source: socket.socket, sink: socket.socket) -> None:
        try:
            while said := source.recv(CHUNK):
                passed, hard = self._passed(cable, said)
                sink.sendall(said[:passed])
                if hard is not None:
                    cable.cut(hard=hard)
                    return
            sink.shutdown(socket.SHUT_WR)
        except OSError:
            cable.cut(hard=False)
        finally:
            if cable.one_side_ended():
                with self._lock:
                    self._cables.discard(cable)
                    if self._counting is cable:  # it ended by itself: the next one has the rest of the bytes
                        self._counting = None

    def _passed(self, cable: "_Cable", said: bytes) -> tuple[int, bool | None]:
        """How many of these bytes go through, and how the cable is cut behind them; None: it is not."""
        with self._lock:
            if self._armed is None or self._counting not in (None, cable):
                return len(said), None
            words, left, hard = self._armed
            start = 0
            if self._counting is None:
                start = said.find(words)
                if start < 0:
                    return len(said), None
                start += len(words)
                self._counting = cable
            if start + left > len(said):
                self._armed = (words, start + left - len(said), hard)
                return len(said), None
            self._armed = self._counting = None
            self.cuts += 1
            return start + left, hard


class _Cable:
    def __init__(self, near: socket.socket, far: socket.socket) -> None:
        self._ends = (near, far)
        self._running = 2
        self._lock = threading.Lock()

    def cut(self, *, hard: bool) -> None:
        for end in self._ends:
            try:
                if hard:
                    end.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, HANG_UP)
                    end.shutdown(socket.SHUT_RD)  # wakes whoever reads, without a word to the other side
                else:
                    end.shutdown(socket.SHUT_RDWR)
            except OSError:
                continue

    def one_side_ended(self) -> bool:
        """Whether both have; then the sockets are closed."""
        with self._lock:
            self._running -= 1
            if self._running == 0:
                for end in self._ends:
                    end.close()
            return self._running == 0
