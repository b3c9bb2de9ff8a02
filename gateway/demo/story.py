"""What happens in the demo: one night and one morning of GREY WAGTAIL. All invented (numbers: Ofcom's drama range)."""

from collections.abc import Callable

from gateway.demo.boat import DemoBoat
from gateway.demo.director import Cue
from gateway.demo.phones import Phones
from gateway.vocabulary.moments import Ms, from_rfc3339

INES, TOBIAS, RUTH, MARINA = "+447700900123", "+447700900456", "+447700900789", "+441632960555"
STRANGER = "+447700900999"
NAMES = {INES: "Ines", TOBIAS: "Tobias", RUTH: "Ruth", MARINA: "the marina"}

BEGIN = from_rfc3339("2026-03-09T02:58:00Z")  # boat time is UTC in winter; any Monday would do
END = from_rfc3339("2026-03-09T10:46:00Z")


def story(boat: DemoBoat, phones: Phones) -> list[Cue]:
    """The cues, in order."""

    def at(clock: str) -> Ms:
        return from_rfc3339(f"2026-03-09T{clock}Z")

    def writes(clock: str, number: str, body: str | Callable[[], str]) -> Cue:
        when = at(clock)
        return Cue(at=when, does=lambda: phones.writes(number, body if isinstance(body, str) else body(), when))

    def aboard(clock: str, what: str, **changes: bool) -> Cue:
        when = at(clock)

        def does() -> None:
            phones.happens(what, when)
            for name, value in changes.items():
                boat.set(name.replace("_", "-"), value, when)

        return Cue(at=when, does=does)

    def silence() -> None:
        phones.happens("the link to the boat breaks", at("10:30:05"))
        boat.go_silent(at("10:30:05"))

    kept = _Kept(phones)
    return [
        aboard("03:04:00", "the bilge pump's fuse has blown, water lifts the high-water float", bilge_high=True),
        writes("03:05:10", TOBIAS, "ok"),
        writes("03:06:05", TOBIAS, "have it"),
        writes("03:15:00", TOBIAS, "at boat 1"),
        writes("03:22:00", TOBIAS, "visit"),
        aboard("03:24:00", "Tobias opens the hatch (alarm 2, told to nobody during his visit)", hatch=True),
        writes("03:31:00", TOBIAS, "note 1 fuse of the bilge pump had blown"),
        aboard("03:38:00", "a new fuse, the pump runs", bilge_pump=True),
        aboard("03:39:40", "the water is down, the pump stops", bilge_high=False, bilge_pump=False),
        writes("03:50:00", TOBIAS, "checked"),
        aboard("03:55:00", "the hatch is closed again", hatch=False),
        writes("03:57:00", TOBIAS, "visit over"),
        aboard("07:40:00", "shore power fails", shore=False),
        writes("07:47:00", TOBIAS, "have it"),
        writes("07:55:00", TOBIAS, "generator start for 2 h"),
        writes("08:01:00", TOBIAS, "generator start for 2 h"),
        writes("08:02:00", TOBIAS, kept.reaction),
        writes("08:02:40", TOBIAS, "go window pillow"),
        writes("08:03:20", STRANGER, kept.confirmation),
        writes("08:04:00", TOBIAS, "anchor up"),
        writes("08:05:00", TOBIAS, kept.confirmation),
        writes("08:20:00", INES, "status"),
        aboard("10:20:00", "shore power is back", shore=True),
        Cue(at=at("10:30:05"), does=silence),
    ]


class _Kept:
    """The last text with a code that came to Tobias, as a person would scroll back to it."""

    def __init__(self, phones: Phones) -> None:
        self._phones = phones

    def reaction(self) -> str:
        """What a phone sends when its owner puts a heart on a text."""
        return f"Loved \N{LEFT DOUBLE QUOTATION MARK}{self._text()}\N{RIGHT DOUBLE QUOTATION MARK}"

    def confirmation(self) -> str:
        """The code, as it is to be sent back."""
        words = self._text().split("GO ", 1)[1].split()
        return f"go {words[0]} {words[1]}".lower()

    def _text(self) -> str:
        sent = [text.body for text in self._phones.texts if text.number == TOBIAS and "GO " in text.body]
        return sent[-1]
