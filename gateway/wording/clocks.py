"""Times and lengths of time as they are said. Times are boat time; it is said so where the reader's clock differs."""

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND, Ms, as_utc
from gateway.wording.scene import Scene

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class Clock:
    """now: instant, ms UTC. zone: the boat's. reader: the reader's own. offset: ms that the wall clock is ahead."""

    now: Ms
    zone: ZoneInfo
    reader: ZoneInfo
    offset: Ms = 0

    def at(self, moment: Ms) -> str:
        """An instant as it is said: "03:04", with the day when it is not today's. In the hour that a clock change
        repeats the zone's own short name is added ("01:30 BST"), because the bare time would mean two instants."""
        local = as_utc(moment + self.offset).astimezone(self.zone)
        text = f"{local:%H:%M}"
        if local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset():
            text += f" {local.tzname()}"
        return self._day(local) + text

    def day_of(self, moment: Ms) -> str:
        """The instant's day, with a space behind it: "Sun ", "22 Mar "; "" for today."""
        return self._day(as_utc(moment + self.offset).astimezone(self.zone))

    def _day(self, local: datetime) -> str:
        today = as_utc(self.now + self.offset).astimezone(self.zone).date()
        apart = abs((local.date() - today).days)
        if apart == 0:
            return ""
        if apart < 7:  # the name of a day is sure for less than a week
            return f"{WEEKDAYS[local.weekday()]} "
        year = "" if local.year == today.year else f" {local.year}"
        return f"{local.day} {MONTHS[local.month - 1]}{year} "

    def mark(self, *moments: Ms) -> str:
        """ " boat time" when the reader's clock shows another time at one of these instants, else ""."""
        differs = any(
            as_utc(moment + self.offset).astimezone(self.zone).utcoffset()
            != as_utc(moment + self.offset).astimezone(self.reader).utcoffset()
            for moment in moments
        )
        return " boat time" if differs else ""

    def told(self, moment: Ms) -> str:
        """The instant with its mark: "03:04 boat time"."""
        return self.at(moment) + self.mark(moment)


def clock(scene: Scene, boat: str, person: str) -> Clock:
    """The clock of a text about a boat to a person. About the gateway itself (boat "") it is the reader's own."""
    known, reader = scene.boats.get(boat), scene.people.get(person)
    zone = known.zone if known else reader.zone if reader else ZoneInfo("UTC")
    return Clock(scene.now, zone, reader.zone if reader else zone, scene.offset)


def lasting(length: Ms) -> str:
    """A length of time, cut down to what is worth saying: "14 s", "80 min", "3 h", "2 h 30 min", "3 days"."""
    length = max(length, 0)
    if length < SECOND:
        return "less than 1 s"
    if length < 2 * MINUTE:
        return f"{length // SECOND} s"
    if length < 2 * HOUR:
        return f"{length // MINUTE} min"
    if length < 2 * DAY:
        return run_time(length - length % MINUTE)
    return f"{length // DAY} days"


def run_time(length: Ms) -> str:
    """A run as a person would text it: "45 min", "2 h", "1 h 30 min"; rounded up to the minute."""
    minutes = -(-length // MINUTE)
    hours, rest = divmod(minutes, 60)
    return " ".join([f"{hours} h"] * (hours > 0) + [f"{rest} min"] * (rest > 0 or hours == 0))
