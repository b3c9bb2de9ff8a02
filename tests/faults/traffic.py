"""Steady traffic for a gateway under attack: a living boat, one alarm after the other, a phone that asks and switches.

Each alarm point is raised once and told to one person once, so that what is missing or double shows. The next is raised
when the last one was told: what comes together would be told in one text. Of four points one stands and is nobody's,
one is taken, one goes by itself, one is taken and goes: so the state that is left has something of each.
"""

import json
import re
import threading
import time
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path

from gateway.demo.boat import DemoBoat
from gateway.demo.boat_link import BoatLink
from gateway.demo.carrier_stand_in import CarrierStandIn
from gateway.demo.story import INES, TOBIAS

AT_A_FAULT = 6
"""Alarms that may be raised for one kill or cut: so they last to the end of an attack, however long gateways live."""

POINTS = 50 * AT_A_FAULT  # an attack has 40 kills and 10 cuts at the most
POINT = re.compile(r"POINT (\d+)")
NUMBER = re.compile(r"HAVE IT (\d+)")
LOCK_OUT = "panel/lock-out"
PATIENCE = 30.0  # seconds in which a phone waits for an answer, over restarts


def now() -> int:
    return time.time_ns() // 1_000_000


def lay_points(folder: Path) -> None:
    """Points that are raised at once, and a call-out list of one person told once."""
    boat = folder / "boats" / "grey-wagtail"
    signals = "".join(
        f'[signal.point-{k}]\ntopic = "{{boat}}/point/{k}"\ncarries = "contact"\nreport_interval = "1 h"\n\n'
        for k in range(POINTS)
    )
    alarms = "".join(
        f'[alarm.point-{k}]\nname = "Point {k}"\npriority = "emergency"\nlatching = false\nwhen = "point-{k} on"\n'
        f'clears = "point-{k} off"\ncallout = "once"\nmeans = "A test."\ndo = "Nothing."\n\n'
        for k in range(POINTS)
    )
    # A command that a kill leaves unproven is a failed one: its rest of a minute would leave hardly any to strike at.
    lights = '[equipment.deck-lights]\ncooling_off = "0 s"\n'
    for name, more in (("signals.toml", signals), ("alarms.toml", alarms), ("equipment.toml", lights)):
        file = boat / name
        file.write_text((file.read_text() if file.exists() else "") + "\n" + more)
    callout = folder / "callout.toml"
    callout.write_text(callout.read_text() + '\n[list.once]\nsteps = [{ after = "0 min", tell = ["ines"] }]\n')


def prove_numbers(folder: Path) -> None:
    """By today's clock the starter's proofs of numbers are over, so nothing would be switched: they become new."""
    people, yesterday = folder / "people.toml", datetime.fromtimestamp(now() / 1000, UTC) - timedelta(days=1)
    before = people.read_text()
    after = before.replace("at = 2026-02-27 15:00:00", f"at = {yesterday:%Y-%m-%d %H:%M:%S}")
    assert after != before
    people.write_text(after)


class Traffic:
    """Two threads until `end`. raised: points whose alarm the broker has taken. commands: ids that reached the boat."""

    def __init__(self, port: int, carrier: CarrierStandIn) -> None:
        self.carrier = carrier
        self.boat, self.link = DemoBoat(), BoatLink("127.0.0.1", port)
        self.raised: list[int] = []
        self.allowed = 0
        self.commands: Counter[str] = Counter()
        self.confirmed = 0
        self.asked = 0
        self.texted: list[str] = []
        self.gone: set[int] = set()
        self._taken: set[int] = set()
        self.faults: list[BaseException] = []
        self._calm, self._over = threading.Event(), threading.Event()
        self._pen, self._pens_down = threading.Lock(), False
        self._threads = [threading.Thread(target=self._guarded, args=(work,)) for work in (self._aboard, self._phone)]

    def begin(self) -> None:
        self.link.connect()
        for thread in self._threads:
            thread.start()

    def allow_more(self) -> None:
        """A kill or cut is coming: raise some alarms more."""
        self.allowed = min(self.allowed + AT_A_FAULT, POINTS)

    def calm(self) -> list[int]:
        """Raise no more alarms; those that were raised."""
        self._calm.set()
        return list(self.raised)

    def pens_down(self) -> None:
        """Once a dialogue about a switch has come to its end, nobody writes any more: `texted` is whole."""
        self._threads[1].join()
        with self._pen:
            self._pens_down = True

    def end(self) -> None:
        """Stop."""
        self._over.set()
        for thread in self._threads:
            thread.join()
        self.link.close()
        assert not self.faults, self.faults

    def _guarded(self, work: object) -> None:
        try:
            work()  # type: ignore[operator]
        except BaseException as fault:
            self.faults.append(fault)

    # ------------------------------------------------------------ the boat

    def _aboard(self) -> None:
        while not self._over.wait(0.02):
            for command in self.link.commands():
                self.commands[json.loads(command.payload)["id"]] += 1
                self.boat.command(command.topic, command.payload, command.retained, now())
            messages = self.boat.due(now()) if self.boat.next_due() <= now() else []
            messages.append(("grey-wagtail/dc/start", '{"voltage": 12.7}', False))
            # After a start what is retained does not count for a switch: these are said again and again.
            messages += [
                (f"grey-wagtail/{topic}", "off", False) for topic in ("detector/fire", "detector/gas", LOCK_OUT)
            ]
            told = self.numbers()
            for old in self.raised[:-1]:  # told, so that the gateway knows of it
                if old % 4 in (1, 3) and old not in self._taken and old in told:
                    self._taken.add(old)
                    self._write(INES, f"have it {told[old]}")
                elif old % 4 in (2, 3) and old not in self.gone and old < len(self.raised) - 4:
                    self.gone.add(old)
                    messages.append((f"grey-wagtail/point/{old}", "off", False))
            point = len(self.raised)
            if point < self.allowed and not self._calm.is_set() and (point == 0 or self.told()[point - 1]):
                messages.append((f"grey-wagtail/point/{point}", "on", False))
                self.link.publish_and_wait(messages)
                self.raised.append(point)
            else:
                self.link.publish_and_wait(messages)

    # ------------------------------------------------------------ the phone

    def _phone(self) -> None:
        while not self._over.is_set():
            for action in ("on", "off"):
                self._switch(action)
                if self._calm.is_set():
                    return

    def _switch(self, action: str) -> None:
        before = len(self._to_tobias())
        self.asked += 1
        self._write(TOBIAS, f"deck lights {action}")
        code = self._answer(before, "Reply GO ", "Nothing was switched")
        if code is None or "Reply GO " not in code:
            return
        before = len(self._to_tobias())
        first, second, *_ = code.split("Reply GO ", 1)[1].split()
        self.confirmed += 1
        self._write(TOBIAS, f"go {first} {second}")
        self._answer(before, "deck lights on,", "deck lights off,", "no proof", "NOT ", "was switched", "used already")

    def _write(self, number: str, body: str) -> None:
        with self._pen:
            if not self._pens_down:
                self.texted.append(self.carrier.text_in(number, body, now()))

    def _to_tobias(self) -> list[str]:
        return [text.body for text in self.carrier.sent if text.number == TOBIAS]

    def _answer(self, before: int, *having: str) -> str | None:
        """The first new text that has one of these words; None when none came in time, or all is over."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end and not self._over.wait(0.02):
            for body in self._to_tobias()[before:]:
                if any(words in body for words in having):
                    return body
        return None

    # ------------------------------------------------------------ what must hold

    def numbers(self) -> dict[int, int]:
        """By what number each point's alarm was told."""
        found: dict[int, int] = {}
        for text in self.carrier.sent:
            number = NUMBER.search(text.body) if text.number == INES and "Nobody has it" in text.body else None
            if number is not None:
                found.update(dict.fromkeys(map(int, POINT.findall(text.body)), int(number[1])))
        return found

    def told(self) -> Counter[int]:
        """How often each point's alarm was told."""
        found: Counter[int] = Counter()
        for text in self.carrier.sent:
            if text.number == INES and "Nobody has it" in text.body:
                found.update({int(point) for point in POINT.findall(text.body)})
        return found
