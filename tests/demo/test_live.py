"""The demo at the pace of the clock, as somebody types into it: the real command in a process of its own."""

import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path
from queue import Empty, Queue

import pytest

TOP = Path(__file__).parents[2]
PATIENCE = 40.0  # seconds for a line that comes within one on an idle machine: another program may keep it busy


class Terminal:
    """A running demo: lines go in, lines come out."""

    def __init__(self, *options: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "gateway", "demo", "--live", *options],
            cwd=TOP,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            encoding="utf-8",
        )
        self._printed: Queue[str] = Queue()
        self.all: list[str] = []
        self._ear = threading.Thread(target=self._listen, daemon=True)
        self._ear.start()

    def _listen(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self._printed.put(line.rstrip("\n"))

    def type(self, line: str) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(f"{line}\n")
        self.process.stdin.flush()

    def prints(self, *wanted: str) -> str:
        """The next line that holds all this."""
        while True:
            try:
                line = self._printed.get(timeout=PATIENCE)
            except Empty:
                raise AssertionError(f"{wanted} was not printed, but:\n" + "\n".join(self.all)) from None
            self.all.append(line)
            if all(part in line for part in wanted):
                return line

    def ends(self) -> int:
        code = self.process.wait(PATIENCE)
        self._ear.join(PATIENCE)
        while not self._printed.empty():
            self.all.append(self._printed.get())
        return code


@pytest.fixture
def terminal() -> Iterator[Terminal]:
    found = Terminal()
    yield found
    found.process.kill()
    found.process.wait()
    for end in (found.process.stdin, found.process.stdout):
        assert end is not None
        end.close()


@pytest.mark.long
def test_an_alarm_is_told_taken_and_asked_about_as_it_is_typed(terminal: Terminal) -> None:
    terminal.prints("help, quit")
    terminal.type("co on")
    told = {terminal.prints("CARBON MONOXIDE", "Reply HAVE IT 1").split()[2] for _ in range(2)}
    assert told == {"Ines", "Tobias"}
    terminal.type("tobias: have it 1")
    terminal.prints("to Ines", "Tobias has alarm 1")
    terminal.type("ines: status")
    terminal.prints("to Ines", "open: 1 CARBON MONOXIDE", "house volts 13.6 V")
    terminal.type("anchor up")
    terminal.prints("Type help")
    terminal.type("quit")
    assert terminal.ends() == 0
    assert terminal.all[-1] == "Logbook: every chain is unbroken."


@pytest.mark.long
def test_lines_from_a_pipe_are_done_with_one_after_the_other_and_its_end_ends_the_demo(tmp_path: Path) -> None:
    typed = "fire on\nselector local\ntobias: generator start for 1 h\nstranger: hello\n+447700900111: status"
    done = subprocess.run(
        [sys.executable, "-m", "gateway", "demo", "--live", "--keep", str(tmp_path / "kept")],
        cwd=TOP,
        input=typed,
        capture_output=True,
        text=True,
        check=True,
        timeout=PATIENCE,
    )
    lines = done.stdout.splitlines()
    refused = next(line for line in lines if "generator NOT started" in line)
    assert "to Tobias" in refused
    assert any("to Ruth" in line and "a number that is on no list" in line for line in lines)
    assert not any("to a stranger" in line for line in lines)
    assert lines[-1] == f"Kept: {tmp_path / 'kept'}"
    assert (tmp_path / "kept" / "store").is_file()


@pytest.mark.long
def test_a_file_may_be_typed_in_as_well_and_files_are_not_overwritten(tmp_path: Path) -> None:
    (tmp_path / "kept").mkdir()
    (tmp_path / "kept" / "letter").touch()
    with (tmp_path / "kept" / "letter").open() as nothing:
        done = subprocess.run(
            [sys.executable, "-m", "gateway", "demo", "--live", "--keep", str(tmp_path / "kept")],
            cwd=TOP,
            stdin=nothing,
            capture_output=True,
            text=True,
            check=False,
            timeout=PATIENCE,
        )
    assert done.returncode == 2
    assert "there are files in it already" in done.stderr


@pytest.mark.long
def test_with_nothing_to_read_it_starts_and_stops_in_order() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "gateway", "demo", "--live"],
        cwd=TOP,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=True,
        timeout=PATIENCE,
    )
    assert done.stdout.splitlines()[-1] == "Logbook: every chain is unbroken."
    assert done.stderr == ""
