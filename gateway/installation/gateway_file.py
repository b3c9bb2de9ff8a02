"""gateway.toml: brokers, carriers, where the store lies, pacing."""

from decimal import Decimal
from typing import Annotated

from pydantic import AfterValidator, BeforeValidator, Field, model_validator

from gateway.history.settings import READINGS_DAYS, READINGS_MEGABYTES, SEALED_MONTHS
from gateway.installation.kinds import Length, Text, between, whole_between
from gateway.installation.prices import Price, amount_of, price_of
from gateway.installation.shape import Strict
from gateway.installation.slips import Slip
from gateway.vocabulary.moments import DAY, MINUTE, SECOND

PricePerPart = Annotated[Price, BeforeValidator(price_of)]


class SecretTable(Strict):
    """Where a secret lies: in a variable of the environment, or in a private file. Exactly one of the two."""

    variable: Text | None = None
    file: Text | None = None

    @model_validator(mode="after")
    def _one_of_two(self) -> "SecretTable":
        if (self.variable is None) == (self.file is None):
            raise Slip("must name one place", 'write { variable = "NAME" } or { file = "PATH" }')
        return self


def _version(written: int) -> int:
    if written not in (3, 5):
        raise Slip(f"is {written}, which is no version of MQTT that is spoken", "write 5, or 3 for MQTT 3.1.1")
    return written


class BrokerTable(Strict):
    """[broker.NAME]. keepalive: 20 to 30 s finds a half-open link within one to two keepalives (measured), up to 5 min
    for a metered link. session_expiry: days, so that an outage over a weekend loses nothing."""

    host: Text = Field(examples=['"127.0.0.1"'])
    port: Annotated[int, whole_between(1, 65535)] = 1883
    client_id: Text = Field(examples=['"heavingline-quay"'])
    version: Annotated[int, AfterValidator(_version)] = 5
    user: Text | None = None
    password_from: SecretTable | None = None
    ca_file: Text | None = None
    keepalive: Annotated[Length, between(5 * SECOND, 5 * MINUTE, "25 s unless the link is metered")] = 25 * SECOND
    session_expiry: Annotated[Length, between(MINUTE, 30 * DAY, "7 days outlast a weekend")] = 7 * DAY


class HookTable(Strict):
    """[carrier.NAME.hook]: the carrier calls us. listen: where, on this machine. public_url: the address that the
    carrier is given, up to /texts; its calls are signed for that."""

    listen: Text = Field(examples=['"127.0.0.1:8080"'])
    public_url: Text = Field(examples=['"https://texts.example.org"'])


class PollTable(Strict):
    """[carrier.NAME.poll]: how often the carrier is asked for texts. idle: when nothing is waited for. fast: for 15 min
    after an alarm text, and while a code is open or a command is under way; a command may be 5 min old at most."""

    idle: Annotated[Length, between(5 * SECOND, 30 * MINUTE, "2 min spares a metered link")] | None = None
    fast: Annotated[Length, between(5 * SECOND, 2 * MINUTE, "15 s finds an answer to an alarm in time")] | None = None


class CarrierTable(Strict):
    """[carrier.NAME]. sender: our own number. price_per_part: of one part of a text, by the installer's contract.
    balance_low: what the account holds at the least, in its own currency, else who minds the boats is told."""

    account: Text = Field(examples=['"the account\'s id"'])
    sender: Text = Field(examples=['"+44 7700 900321"'])
    token_from: SecretTable = Field(examples=['{ variable = "HEAVINGLINE_CARRIER_TOKEN" }'])
    base_url: Text | None = None
    unusual_number: bool = False
    price_per_part: PricePerPart | None = None
    balance_low: Annotated[Decimal, BeforeValidator(amount_of)] | None = None
    hook: HookTable | None = None
    poll: PollTable = PollTable()


def _security(written: str) -> str:
    if written not in ("starttls", "tls", "none"):
        raise Slip(f'is "{written}", which is no way to encrypt mail', 'write "starttls", or "tls" for port 465')
    return written


class MailTable(Strict):
    """[mail]: the server by which the installer hears of trouble when texts do not go. port: 587, or 465 with security
    "tls" (RFC 8314 3.3). from: the address that mails come from."""

    host: Text = Field(examples=['"mail.example.org"'])
    port: Annotated[int, whole_between(1, 65535)] | None = None
    sender: Text = Field(alias="from", examples=['"gateway@example.org"'])
    security: Annotated[Text, AfterValidator(_security)] = "starttls"
    user: Text | None = None
    password_from: SecretTable | None = None
    ca_file: Text | None = None


class PacingTable(Strict):
    """[pacing]: the most that one person gets (handbook 2.4), and that a boat and all boats together send."""

    alarm_repeats_an_hour: Annotated[int, whole_between(1, 60)] = 6
    warnings_an_hour: Annotated[int, whole_between(1, 60)] = 3
    warnings_a_day: Annotated[int, whole_between(1, 1000)] = 12
    boat_a_day: Annotated[int, whole_between(10, 10_000)] = 300
    all_boats_a_day: Annotated[int, whole_between(10, 100_000)] = 2_000
    answers_in_ten_minutes: Annotated[int, whole_between(1, 60)] = 4


class KeepingTable(Strict):
    """[keeping]: how long readings and sealed parts are kept; entries are kept for ever."""

    readings_days: Annotated[int, whole_between(2, 3660)] = READINGS_DAYS
    readings_megabytes: Annotated[int, whole_between(10, 1_000_000)] = READINGS_MEGABYTES
    sealed_months: Annotated[int, whole_between(1, 240)] = SEALED_MONTHS


class GatewayFile(Strict):
    """The whole file."""

    store: Text = "store"
    broker: dict[str, BrokerTable] = Field(examples=["a table [broker.NAME]"])
    carrier: dict[str, CarrierTable] = Field(examples=["a table [carrier.NAME]"])
    mail: MailTable | None = None
    pacing: PacingTable = PacingTable()
    keeping: KeepingTable = KeepingTable()
