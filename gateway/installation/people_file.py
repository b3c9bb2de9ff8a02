"""people.toml: who is told, and who may switch what."""

from datetime import date, datetime
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from gateway.installation.kinds import Clock, Text, Zone, day_of
from gateway.installation.regular_times import DayClock, WeekClock
from gateway.installation.shape import Strict
from gateway.people.settings import Role


class RightTable(Strict):
    """One right: ``{ boat = "grey-wagtail", equipment = "*", actions = ["stop"] }``. begins, ends: hours in which a
    thing may be brought to life, boat time; without them every hour."""

    boat: Text = Field(examples=['"grey-wagtail"'])
    equipment: Text = Field(examples=['"*"'])
    actions: list[Text] = Field(default=[])
    begins: Clock | None = None
    ends: Clock | None = None


class ProvedTable(Strict):
    """``proved = { at = 2026-03-12 16:10:00, by = "ruth" }``: an installer has made sure whose number it is. at: of the
    person's zone when it names none."""

    at: datetime = Field(examples=["2026-03-12 16:10:00"])
    by: Text = Field(examples=['"ruth"'])


class QuietTable(Strict):
    """``quiet = { begins = "22:00", ends = "07:00" }``, in the person's zone."""

    begins: Clock = Field(examples=['"22:00"'])
    ends: Clock = Field(examples=['"07:00"'])


class PersonTable(Strict):
    """[person.KEY]. consent: day, how and by whom the person agreed to be texted. mail: an installer's address.
    proved: ends a lock of commands that began before. round, digest: clock times of every day, weekly: of one day, in
    the person's zone; without them none is sent. quiet: warnings and cautions wait for its end."""

    name: Text = Field(examples=['"Ines Marlow"'])
    number: Text = Field(examples=['"+44 7700 900123"'])
    unusual_number: bool = False
    role: Annotated[Role, Field(strict=False, examples=['"caretaker"'])]
    zone: Zone = Field(examples=['"Europe/London"'])
    boats: list[Text] = Field(examples=['["grey-wagtail"]'])
    rights: list[RightTable] = Field(default=[])
    consent: str = ""
    mail: str = ""
    language: Text = Field(default="en", examples=['"de"'])
    round: DayClock | None = None
    weekly: WeekClock | None = None
    digest: DayClock | None = None
    quiet: QuietTable | None = None
    proved: ProvedTable | None = None


class ShiftTable(Strict):
    """[[roster]]: who is on duty on which weekdays or dates, from when until when (boat time); without times the whole
    day. An end before the begin is of the next day."""

    who: Text = Field(examples=['"tobias"'])
    days: list[Literal["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]] = Field(default=[])
    dates: list[Annotated[date, BeforeValidator(day_of)]] = Field(default=[])
    begins: Clock = 0
    ends: Clock = 0


class PeopleFile(Strict):
    """The whole file. home_country: two letters of ISO 3166-1, for numbers written without country code."""

    home_country: str | None = None
    person: dict[str, PersonTable] = Field(examples=["a table [person.KEY]"])
    roster: list[ShiftTable] = Field(default=[])
