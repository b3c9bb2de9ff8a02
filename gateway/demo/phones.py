"""The phones of the demo: what was texted, by whom, when; printed as it happens, readable without colour."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from zoneinfo import ZoneInfo

from gateway.demo.carrier_stand_in import CarrierStandIn, SentText
from gateway.vocabulary.moments import Ms, as_utc


@dataclass(slots=True)
class Phones:
    """Texts in and out, in order. names: by number. Lines of one moment are printed together when it is over, sorted
    by phone, so that two runs print the same however the workers took turns."""

    carrier: CarrierStandIn
    names: Mapping[str, str]
    zone: ZoneInfo
    show: Callable[[str], None]
    _printed: int = 0
    _rung: int = 0
    _lines: list[str] = field(default_factory=list)
    texts: list[SentText] = field(default_factory=list)

    def writes(self, number: str, body: str, at: Ms) -> None:
        """A phone texts the gateway."""
        self.carrier.text_in(number, body, at)
        self._lines.append(self._line(at, f"{self._name(number)} writes", body))

    def happens(self, what: str, at: Ms) -> None:
        """Something happens aboard."""
        self._lines.append(self._line(at, "(aboard)", what))

    def moment_over(self, at: Ms) -> None:
        """Print what was said at this moment."""
        sent = self.carrier.sent
        fresh = sorted(sent[self._printed :], key=lambda text: (self._name(text.number), text.body))
        self._printed = len(sent)
        self.texts += fresh
        for line in self._lines:
            self.show(line)
        self._lines.clear()
        for text in fresh:
            self.show(self._line(at, f"to {self._name(text.number)}", text.body))
        rung = self.carrier.rung[self._rung :]
        self._rung += len(rung)
        for call in sorted(rung, key=lambda call: self._name(call.to)):
            self.show(self._line(at, f"rings {self._name(call.to)}", call.words[0] if call.words else ""))

    def last_to(self, number: str) -> str:
        """The newest text to this phone; "" before the first."""
        return next((text.body for text in reversed(self.texts) if text.number == number), "")

    def _name(self, number: str) -> str:
        return self.names.get(number, "a stranger")

    def _line(self, at: Ms, who: str, what: str) -> str:
        return f"{as_utc(at).astimezone(self.zone):%H:%M:%S}  {who:<18} {what}"
