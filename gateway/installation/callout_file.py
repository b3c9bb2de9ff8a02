"""callout.toml: whom to tell of an alarm that nobody holds yet."""

from typing import Annotated, Literal

from pydantic import Field

from gateway.alarms.settings import Attendance
from gateway.installation.kinds import Clock, Length, Text, between
from gateway.installation.shape import Strict
from gateway.vocabulary.moments import DAY, MINUTE


class StepTable(Strict):
    """One round: ``{ after = "3 min", tell = ["ines", "tobias"] }``. attendance, days, begins, ends: it counts only
    while the boat is kept so, on these days, at these hours (boat time; an end before the begin is of the next day)."""

    after: Annotated[Length, between(0, DAY, "rounds later than a day help nobody")] = Field(examples=['"3 min"'])
    tell: list[Text] = Field(examples=['["ines", "tobias"]'])
    by: list[Literal["text", "call"]] | None = Field(default=None, examples=['["text", "call"]'])
    attendance: list[Annotated[Attendance, Field(strict=False)]] = Field(default=[], examples=['["away", "laid up"]'])
    days: list[Literal["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]] = Field(default=[])
    begins: Clock | None = Field(default=None, examples=['"22:00"'])
    ends: Clock | None = Field(default=None, examples=['"07:00"'])


class ListTable(Strict):
    """[list.NAME]."""

    steps: list[StepTable] = Field(examples=['[{ after = "0 min", tell = ["ines"] }]'])
    repeat: Annotated[Length, between(MINUTE, DAY, "a phone that rings more often is switched off")] | None = None


class CalloutFile(Strict):
    """The whole file."""

    list: dict[str, ListTable] = Field(examples=["a table [list.NAME]"])
