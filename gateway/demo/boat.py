"""The demo's motor yacht GREY WAGTAIL: what its sensors and relay nodes publish, hour by hour. Pure, deterministic.

No sensor is right in every detail and none needs to be: numbers move the right way at a believable pace, so that a
night can be told. Contacts go out retained, as boats' bridges commonly publish states; numbers, node states and the
heartbeat do not. Instants are ms UTC and are handed in; every number reported is rounded to what a sensor of its kind
shows. Topics stand below the boat's prefix: see `CONTACTS`, `NODES` and `_numbers`.
"""

from dataclasses import dataclass
from typing import TypeAlias

import orjson

from gateway.demo.generating_set import GeneratingSet, Phase, litres_burnt
from gateway.demo.relay_node import Obeyed, Outcome, RelayNode
from gateway.vocabulary.moments import HOUR, MINUTE, SECOND, Ms

Message: TypeAlias = tuple[str, str, bool]
"""Topic, payload, whether it goes out retained."""

NUMBERS_EVERY: Ms = 30 * SECOND  # numbers, node states and heartbeat; our choice
CONTACTS_EVERY: Ms = 60 * SECOND  # contacts, and each at once when it changes; our choice

CONTACTS: dict[str, str] = {
    "bilge-high": "bilge/high",
    "bilge-pump": "bilge/pump",
    "shore": "ac/shore",
    "co": "detector/co",
    "fire": "detector/fire",
    "gas": "detector/gas",
    "hatch": "hatch/main",
    "panel-in-use": "panel/in-use",
    "lock-out": "panel/lock-out",
    "visit-over": "panel/visit-over",
}
"""Name of a contact -> its topic below the prefix; the payload is "on" or "off"."""

SELECTOR = "panel/selector"  # "LOCAL" or "REMOTE"

TANK_LITRES = 300.0  # handbook 4.6, CHK-19
FLOAT_VOLTS = 13.6  # house bank on the charger, at rest; common practice for AGM at 25 C
RESTING_VOLTS = 12.8  # full AGM bank without charger, handbook 4.1
VOLTS_A_POINT = 0.012  # V for one per cent of charge between 100 and 50 %, handbook 4.1 (12.80 to 12.20 V)
BANK_AMPERE_HOURS = 400.0
EMPTY_VOLTS = 10.5  # handbook 4.1
SETTLES = 0.1  # V a minute by which a bank off the charger falls to its resting voltage; our choice
CHARGES = 0.5  # V an hour; our choice
CHARGER_AMPERES = 8.0  # into the bank, after the loads; our choice
BASE_AMPERES, FRIDGE_AMPERES, LIGHT_AMPERES = 3.1, 4.0, 1.5  # our choice
COLD, WARMEST = 3.5, 20.0  # C: a fridge at work (4.4 is the limit of food, handbook 4.7), the cabin around it
WARMS, COOLS = 1.5, 3.0  # C an hour; our choice
START_VOLTS, CRANKING_VOLTS = 12.7, 10.9  # start battery at rest and under the starter; our choice

NODES: tuple[str, ...] = ("generator", "refrigeration", "deck-lights", "cabin-lights")
"""The relay nodes: commands on ``command/NAME``, states on ``node/NAME/state`` below the prefix."""


def _nodes() -> dict[str, RelayNode]:
    return {
        # 4 h: the handbook's example of a local run limit (5.2). 12 h of light: a long night, our choice.
        "generator": RelayNode(actions=("start", "stop"), longest=240),
        "refrigeration": RelayNode(actions=("on", "off"), runs_at_rest=True),
        "deck-lights": RelayNode(actions=("on", "off"), longest=720),
        "cabin-lights": RelayNode(actions=("on", "off"), longest=720),
    }


@dataclass(slots=True)
class _Levels:
    """What changes by itself between two instants."""

    house: float = FLOAT_VOLTS
    fuel: float = 62.0
    fridge: float = COLD


class DemoBoat:
    """One boat. Call `due` when `next_due` has come; call `due` too after `set`, `command` or `come_back`."""

    def __init__(self, prefix: str = "grey-wagtail") -> None:
        self.prefix = prefix
        self.nodes = _nodes()
        self.generator = GeneratingSet()
        self._contacts = dict.fromkeys(CONTACTS, False) | {"shore": True}
        self._remote = True
        self._levels = _Levels()
        self._now: Ms = 0
        self._numbers_next: Ms = 0
        self._contacts_next: Ms = 0
        self._beats = 0
        self._silent = False
        self._waiting: list[Message] = []

    # ------------------------------------------------------------ what others ask of it

    def next_due(self) -> Ms:
        """When `due` has something to say; 0 before the first call, at once after a change."""
        own = [node.ends_at for node in self.nodes.values()] + [self.generator.next_due()]
        later = [moment for moment in own if moment is not None]
        return self._now if self._waiting else min(self._numbers_next, self._contacts_next, *later)

    def due(self, now: Ms) -> list[Message]:
        """What the boat publishes at `now`: changes first, in their order, then what is due by the clock. While it is
        silent it goes on living and counting, and nothing of it comes ashore, then or later."""
        self._live_to(now)
        messages, self._waiting = self._waiting, []
        just_said = frozenset(topic for topic, _, _ in messages)
        if self._now >= self._numbers_next:
            messages += self._numbers(just_said)
            self._numbers_next = _next_step(self._now, NUMBERS_EVERY)
        if self._now >= self._contacts_next:
            by_clock = [self._contact(name) for name in CONTACTS] + [self._selector()]
            messages += [message for message in by_clock if message[0] not in just_said]
            self._contacts_next = _next_step(self._now, CONTACTS_EVERY)
        return [] if self._silent else messages

    def command(self, topic: str, payload: bytes, retained: bool, now: Ms) -> Outcome | None:
        """A message on one of the boat's command topics, and what the node made of it; None when it reaches no node:
        another topic, or the boat is silent."""
        self._live_to(now)
        name = topic.removeprefix(f"{self.prefix}/command/")
        if self._silent or name not in self.nodes or name == topic:
            return None
        outcome = self.nodes[name].take(payload, retained=retained, now=self._now)
        if isinstance(outcome, Obeyed):
            self._after_switching(name)
        return outcome

    def set(self, name: str, value: bool | str | float, now: Ms) -> None:
        """Move one thing aboard. A contact by its name in `CONTACTS` (True is on); "selector" ("LOCAL", "REMOTE");
        "house-volts" (V), "fuel-level" (%), "fridge" (C). Raises ValueError for any other name or value."""
        self._live_to(now)
        if name in CONTACTS and isinstance(value, bool):
            if self._contacts[name] is not value:
                self._contacts[name] = value
                self._waiting.append(self._contact(name))
        elif name == "selector" and value in ("LOCAL", "REMOTE"):
            if self._remote is not (value == "REMOTE"):
                self._remote = value == "REMOTE"
                self._waiting.append(self._selector())
        elif name in _LEVELS and isinstance(value, int | float) and not isinstance(value, bool):
            setattr(self._levels, _LEVELS[name], float(value))
            self._waiting += self._levels_messages()
        else:
            known = ", ".join([*CONTACTS, "selector", *_LEVELS])
            raise ValueError(f"{name} = {value!r}: no such thing aboard, or not a value of it. There are {known}.")
        self._wired_chain()

    def go_silent(self, now: Ms) -> None:
        """The boat's link breaks: nothing of it comes ashore and no command reaches it."""
        self._live_to(now)
        self._silent = True

    def come_back(self, now: Ms) -> None:
        """The link is there again; the next `due` says everything."""
        self._live_to(now)
        self._silent = False
        self._waiting.clear()
        self._numbers_next = self._contacts_next = self._now

    def restart_nodes(self, now: Ms) -> None:
        """The relay nodes lose their supply for a moment and start again, relays open."""
        self._live_to(now)
        for name, node in self.nodes.items():
            node.restart()
            self._after_switching(name)

    # ------------------------------------------------------------ living

    def _live_to(self, now: Ms) -> None:
        """Let the time pass up to `now`, stopping at each instant at which something aboard changes by itself."""
        if self._now == 0:
            self._now = now
        while self._now < now:
            own = [node.ends_at for node in self.nodes.values()] + [self.generator.next_due()]
            step = min([now, *(moment for moment in own if moment is not None)])
            self._levels_to(step)
            self._now = max(step, self._now)
            for name, node in self.nodes.items():
                if node.time_came(self._now):
                    self._after_switching(name)
            self._wired_chain()

    def _wired_chain(self) -> None:
        """The start contact and what is wired in series with it. Selector in LOCAL, the lock-out, the CO detector's
        contact (handbook 5.2) and an empty tank open it without any node; the node then lets go, so that closing the
        chain again starts nothing."""
        node = self.nodes["generator"]
        contacts = self._contacts
        if not self._remote or contacts["lock-out"] or contacts["co"] or self._levels.fuel <= 0:
            node.let_go()
        was_running = self.generator.is_running
        self.generator.contact(closed=node.asks_to_run, now=self._now)
        if self.generator.is_running is not was_running:
            self._waiting.append(self._node("generator"))

    def _after_switching(self, name: str) -> None:
        if name == "generator":
            self._wired_chain()
        else:
            self._waiting.append(self._node(name))

    def _levels_to(self, then: Ms) -> None:
        length, levels = then - self._now, self._levels
        if self._is_charged:
            levels.house = _towards(levels.house, FLOAT_VOLTS, CHARGES * length / HOUR)
        elif levels.house > RESTING_VOLTS:
            levels.house = _towards(levels.house, RESTING_VOLTS, SETTLES * length / MINUTE)
        else:
            points = 100 * self._load() * length / HOUR / BANK_AMPERE_HOURS
            levels.house = _towards(levels.house, EMPTY_VOLTS, VOLTS_A_POINT * points)
        if self.generator.is_running:
            levels.fuel = _towards(levels.fuel, 0.0, 100 * litres_burnt(length) / TANK_LITRES)
        cold = self.nodes["refrigeration"].asks_to_run
        levels.fridge = _towards(levels.fridge, COLD if cold else WARMEST, (COOLS if cold else WARMS) * length / HOUR)

    @property
    def _is_charged(self) -> bool:
        return self._contacts["shore"] or self.generator.is_running

    def _load(self) -> float:
        lights = sum(self.nodes[name].asks_to_run for name in ("deck-lights", "cabin-lights"))
        return BASE_AMPERES + FRIDGE_AMPERES * self.nodes["refrigeration"].asks_to_run + LIGHT_AMPERES * lights

    # ------------------------------------------------------------ saying

    def _numbers(self, just_said: frozenset[str]) -> list[Message]:
        self._beats += 1
        levels = [message for message in self._levels_messages() if message[0] not in just_said]
        nodes = [self._node(name) for name in NODES if self._node_topic(name) not in just_said]
        return [*levels, *nodes, self._says("link/heartbeat", str(self._beats))]

    def _levels_messages(self) -> list[Message]:
        levels = self._levels
        amperes = CHARGER_AMPERES if self._is_charged else -self._load()
        start = CRANKING_VOLTS if self.generator.phase is Phase.CRANKING else START_VOLTS
        return [
            self._says("dc/house", _json(voltage=round(levels.house, 2), current=round(amperes, 1))),
            self._says("dc/start", _json(voltage=start)),
            self._says("tank/fuel", f"{levels.fuel:.1f}"),
            self._says("cold/fridge", f"{levels.fridge:.1f}"),
        ]

    def _node(self, name: str) -> Message:
        node = self.nodes[name]
        if name == "generator":
            running, volts = self.generator.is_running, self.generator.volts(self._now)
            return (self._node_topic(name), node.state(running=running, volts=volts), False)
        return (self._node_topic(name), node.state(running=node.asks_to_run), False)

    def _node_topic(self, name: str) -> str:
        return f"{self.prefix}/node/{name}/state"

    def _contact(self, name: str) -> Message:
        return self._says(CONTACTS[name], "on" if self._contacts[name] else "off", retained=True)

    def _selector(self) -> Message:
        return self._says(SELECTOR, "REMOTE" if self._remote else "LOCAL", retained=True)

    def _says(self, topic: str, payload: str, *, retained: bool = False) -> Message:
        return (f"{self.prefix}/{topic}", payload, retained)


_LEVELS: dict[str, str] = {"house-volts": "house", "fuel-level": "fuel", "fridge": "fridge"}


def _next_step(now: Ms, every: Ms) -> Ms:
    """The next full step of the clock after `now`."""
    return (now // every + 1) * every


def _towards(value: float, end: float, by: float) -> float:
    """`value` moved towards `end`, never past it."""
    return min(value + by, end) if value < end else max(value - by, end)


def _json(**numbers: float) -> str:
    return orjson.dumps(numbers).decode()
