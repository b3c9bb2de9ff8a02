"""When regular texts come, as an installer writes it: "08:00", "Sunday 18:00"."""

from typing import Annotated

from pydantic import BeforeValidator

from gateway.installation.lengths import clock_of
from gateway.installation.slips import Slip

EARLIEST, LATEST = 7 * 60, 22 * 60
"""Minutes after midnight between which what can wait may be told (handbook 2.3: nothing slight between 22:00 and
07:00)."""

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def day_clock(written: object) -> int:
    """``"08:00"`` as minutes after midnight, by day. Raises Slip."""
    minute = clock_of(written)
    if not EARLIEST <= minute <= LATEST:
        raise Slip(f'is "{written}", when people sleep', "write a time from 07:00 to 22:00")
    return minute


def week_clock(written: object) -> tuple[int, int]:
    """``"Sunday 18:00"`` as weekday (0 is Monday) and minutes after midnight. Raises Slip."""
    day, _, clock = written.strip().partition(" ") if isinstance(written, str) else ("", "", "")
    if day.casefold() not in WEEKDAYS:
        raise Slip("names no day of the week and time", 'write such as "Sunday 18:00"')
    return WEEKDAYS.index(day.casefold()), day_clock(clock.strip())


DayClock = Annotated[int, BeforeValidator(day_clock)]
WeekClock = Annotated[tuple[int, int], BeforeValidator(week_clock)]
