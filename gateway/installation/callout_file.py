"""callout.toml: whom to tell of an alarm that nobody holds yet."""

from typing import Annotated, Literal

from pydantic import Field

from gateway.installation.kinds import Length, Text, between
from gateway.installation.shape import Strict
from gateway.vocabulary.moments import DAY, MINUTE


class StepTable(Strict):
    """One round: ``{ after = "3 min", tell = ["ines", "tobias"] }``."""

    after: Annotated[Length, between(0, DAY, "rounds later than a day help nobody")] = Field(examples=['"3 min"'])
    tell: list[Text] = Field(examples=['["ines", "tobias"]'])
    by: list[Literal["text", "call"]] | None = Field(default=None, examples=['["text", "call"]'])


class ListTable(Strict):
    """[list.NAME]."""

    steps: list[StepTable] = Field(examples=['[{ after = "0 min", tell = ["ines"] }]'])
    repeat: Annotated[Length, between(MINUTE, DAY, "a phone that rings more often is switched off")] | None = None


class CalloutFile(Strict):
    """The whole file."""

    list: dict[str, ListTable] = Field(examples=["a table [list.NAME]"])
