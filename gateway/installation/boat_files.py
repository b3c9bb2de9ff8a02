"""The files of one boat: boat.toml, and the tables of signals.toml, alarms.toml and equipment.toml.

The same tables stand in a standard, with ``{boat}`` in the topics.
"""

from datetime import date
from decimal import Decimal
from typing import Annotated

from pydantic import BeforeValidator, Field

from gateway.alarms.settings import Attendance, Concerns
from gateway.boat.settings import Carries, Measures, Raw, Senses, Shared, TimeCounts
from gateway.installation.kinds import (
    AsSent,
    Clock,
    EmergencyNumber,
    Length,
    NamedReason,
    Number,
    Pointer,
    Text,
    Topic,
    Zone,
    between,
    day_of,
)
from gateway.installation.shape import Strict
from gateway.installation.supply_file import BankTable, SupplyTables
from gateway.requests.settings import Sort
from gateway.vocabulary.moments import DAY, HOUR, MINUTE, SECOND
from gateway.vocabulary.priority import Priority


class SharesTable(Strict):
    """shares = { link = "Tarn Creek mast" } in boat.toml."""

    link: Text | None = Field(default=None, examples=['"Tarn Creek mast"'])
    supply: Text | None = Field(default=None, examples=['"pontoon C"'])
    berth: Text | None = Field(default=None, examples=['"inner basin"'])


class BoatFile(Strict):
    """boat.toml. no_gas_aboard: ``name: reason`` when no cooking gas or petrol is aboard, so that no detector for it
    is asked for. shares: the link, supply or berth that it has in common with other boats, by a name that all say."""

    name: Text = Field(examples=['"GREY WAGTAIL"'])
    short_name: Text = Field(examples=['"wagtail"'])
    zone: Zone = Field(examples=['"Europe/London"'])
    broker: Text = Field(examples=['"quay"'])
    carrier: Text = Field(examples=['"main"'])
    berth: str = ""
    emergency_number: EmergencyNumber = "112"
    spoken_names: list[Text] = Field(default=[])
    built_on: Text | None = None
    no_gas_aboard: NamedReason = ""
    shares: SharesTable | None = None
    bank: BankTable | None = None
    supply: SupplyTables | None = None


class SignalTable(Strict):
    """[signal.KEY]. lowest, highest: the range that can be believed. step: how far the sensor wanders by itself.
    latitude, longitude, set_position: of a position. raw: how it stands on the bus. not_available: what is sent when
    there is no value. word_for: what is sent for a word. time_counts: of a time that is a number."""

    topic: Topic = Field(examples=['"{boat}/dc/house"'])
    pointer: Pointer = ""
    carries: Annotated[Carries, Field(strict=False)] = Carries.NUMBER
    unit: str = ""
    scale: Number = Decimal(1)
    on_words: list[Text] = Field(default=["on", "true", "1", "closed"])
    off_words: list[Text] = Field(default=["off", "false", "0", "open"])
    words: list[Text] = Field(default=[])
    time_pointer: Pointer | None = None
    report_interval: Annotated[Length, between(SECOND, DAY, "how often it reports when all is well")] = Field(
        examples=['"30 s"']
    )
    senses: Annotated[Senses, Field(strict=False)] | None = None
    latitude: Pointer = "/latitude"
    longitude: Pointer = "/longitude"
    set_position: list[Number] | None = Field(default=None, examples=["[50.0010, -5.0005]"])
    measures: Annotated[Measures, Field(strict=False)] | None = None
    lowest: Number | None = None
    highest: Number | None = None
    step: Number = Decimal(0)
    spoken_names: list[Text] = Field(default=[], examples=['["battery"]'])
    raw: Annotated[Raw, Field(strict=False)] | None = None
    not_available: list[AsSent] = Field(default=[])
    decimal_comma: bool = False
    word_for: dict[str, Text] = Field(default={}, examples=['{ "0" = "LOCAL", "1" = "REMOTE" }'])
    time_counts: Annotated[TimeCounts, Field(strict=False)] | None = None


class OutOfServiceTable(Strict):
    """[alarm.KEY.out_of_service]: the day of its return, who answers for it, and why (design rule 11)."""

    until: Annotated[date, BeforeValidator(day_of)] = Field(examples=["2026-12-05"])
    by: Text = Field(examples=['"Ruth Okell"'])
    because: Text = Field(examples=['"float switch being replaced"'])


ASKED = between(5 * MINUTE, 7 * DAY, "sooner than that is no time to get there")


class AlarmTable(Strict):
    """[alarm.KEY]. latching: must be written for an emergency, either way. hidden_by: alarms of this boat that hide
    this one while they stand. ask_again: how long after being taken. becomes_alarm, becomes_alarm_after: of a warning
    nobody takes. alarm_with_others: of one that is an alarm at once while an alarm or emergency of the boat stands.
    test: how its condition is made for a proof. shared: the cause lies in what the boats share, so that one fault there
    is one text; silence of the whole boat is the link's without a word. reckon: the house bank, or the sum of
    [sum.KEY] that its text also tells."""

    name: Text = Field(examples=['"House bank low"'])
    priority: Annotated[Priority, Field(strict=False, examples=['"warning"'])]
    when: Text = Field(examples=['"house-volts below 12.0 V for 10 min"'])
    clears: Text | None = None
    callout: Text = Field(examples=['"urgent"'])
    latching: bool | None = None
    attendance: list[Annotated[Attendance, Field(strict=False)]] = Field(default=[])
    concerns: Annotated[Concerns, Field(strict=False)] | None = None
    hidden_by: list[Text] = Field(default=[])
    out_of_service: OutOfServiceTable | None = None
    ask_again: Annotated[Length, ASKED] | None = Field(default=None, examples=['"10 min"'])  # handbook 2.3: E 10, A 30
    becomes_alarm: bool | None = None
    becomes_alarm_after: Annotated[Length, ASKED] | None = Field(default=None, examples=['"60 min"'])
    alarm_with_others: bool = False
    means: str = ""
    do: str = ""
    offer: list[Text] = Field(default=[])
    test: str = ""
    shared: Annotated[Shared, Field(strict=False)] | None = None
    reckon: Text | None = Field(default=None, examples=['"house bank"'])


class InterlockTable(Strict):
    """[equipment.KEY.interlock.NAME]. says: what to tell when it does not hold. actions: empty for both."""

    needs: Text = Field(examples=['"fuel-level at least 20 %"'])
    says: Text = Field(examples=['"fuel under 20%"'])
    actions: list[Text] = Field(default=[])


class PermittedTable(Strict):
    """[equipment.KEY.permitted]: hours of boat time, with who permitted them and why (handbook 5.2)."""

    start: Clock = Field(examples=['"08:00"'])
    end: Clock = Field(examples=['"20:00"'])
    by: Text = Field(examples=['"the marina office"'])
    reason: Text = Field(examples=['"quiet hours"'])


RUN_LIMIT = between(MINUTE, DAY, "the relay node's own timer ends every run")
PROVE_WITHIN = between(SECOND, 10 * MINUTE, "a code is valid for 10 min at most, and somebody waits for the answer")
REST = between(0, HOUR, "compressors need 3 to 5 min")


class EquipmentTable(Strict):
    """[equipment.KEY]. fuel: must be written for an engine. sounder: how long the sounder aboard warns before an
    engine starts. runs_when, rests_when: what the proof must say for it to count as running, and as at rest.
    second_persons: action -> keys of persons, one of whom must confirm it as well. paper_line: bringing it to life asks
    for a line of the person's list on paper as well.
    exception: ``name: reason`` why selector or sounder are missing."""

    name: Text = Field(examples=['"generator"'])
    spoken_names: list[Text] = Field(default=[])
    names: dict[str, list[Text]] = Field(default={}, examples=['{ de = ["Stromerzeuger"] }'])
    sort: Annotated[Sort, Field(strict=False, examples=['"engine"'])]
    fuel: Text | None = None
    pair: list[Text] = Field(examples=['["start", "stop"]'])
    topic: Topic = Field(examples=['"{boat}/command/generator"'])
    feedback: Text = Field(examples=['"generator-running"'])
    count: Text = Field(examples=['"generator-count"'])
    proof: Text | None = None
    runs_when: Text | None = Field(default=None, examples=['"generator-volts at least 207 V"'])
    rests_when: Text | None = Field(default=None, examples=['"generator-volts below 50 V"'])
    selector: Text | None = None
    sounder: Annotated[Length, between(30 * SECOND, MINUTE, "handbook 5.1, G0")] | None = None
    caution: str = ""
    stop_caution: str = ""
    interlock: dict[str, InterlockTable] = Field(default={})
    leave_out: list[Text] = Field(default=[])
    prove_within: Annotated[Length, PROVE_WITHIN] = 90 * SECOND
    run_limit: Annotated[Length, RUN_LIMIT] | None = None
    default_run: Annotated[Length, RUN_LIMIT] | None = None
    minimum_off: Annotated[Length, REST] = 0
    minimum_on: Annotated[Length, REST] = 0
    attempts: int | None = None
    cooling_off: Annotated[Length, REST] | None = None
    cool_down: Annotated[Length, between(0, 5 * MINUTE, "handbook 5.2: 3 to 5 min")] = 0
    command_valid: Annotated[Length, between(5 * SECOND, 10 * MINUTE, "a command never fires late")] = MINUTE
    permitted: PermittedTable | None = None
    second_persons: dict[str, list[Text]] = Field(default={}, examples=['{ start = ["ines", "ruth"] }'])
    paper_line: bool = False
    exception: NamedReason = ""
