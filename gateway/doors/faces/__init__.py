"""What the doors look like from inside: plain values, protocols and the one family of errors. A module a door."""

from gateway.doors.faces.bus import Arrived, BrokerSettings, BrokerUnheard, Bus, BusChange, Overheard
from gateway.doors.faces.carrier import (
    Accepted,
    Carrier,
    CarrierAway,
    CarrierSettings,
    Inbound,
    NoAnswer,
    Polled,
    Refused,
    SendResult,
)
from gateway.doors.faces.clock import Clock
from gateway.doors.faces.inbox import HOOK_REPORTS, HOOK_TEXTS, DeliveryWord, HookedText, HookSettings, HookTaker, Inbox
from gateway.doors.faces.mail import Mail, MailAway, MailSettings
from gateway.doors.faces.store import (
    Batch,
    DamageMark,
    Loaded,
    Marks,
    OpenText,
    ReadingRow,
    RestoredMark,
    Settled,
    Snapshot,
    Store,
)
from gateway.doors.faces.trouble import DoorTrouble, StoreOfOthers, StoreTaken, StoreTrouble, StoreUnreadable

__all__ = [
    "HOOK_REPORTS",
    "HOOK_TEXTS",
    "Accepted",
    "Arrived",
    "Batch",
    "BrokerSettings",
    "BrokerUnheard",
    "Bus",
    "BusChange",
    "Carrier",
    "CarrierAway",
    "CarrierSettings",
    "Clock",
    "DamageMark",
    "DeliveryWord",
    "DoorTrouble",
    "HookSettings",
    "HookTaker",
    "HookedText",
    "Inbound",
    "Inbox",
    "Loaded",
    "Mail",
    "MailAway",
    "MailSettings",
    "Marks",
    "NoAnswer",
    "OpenText",
    "Overheard",
    "Polled",
    "ReadingRow",
    "Refused",
    "RestoredMark",
    "SendResult",
    "Settled",
    "Snapshot",
    "Store",
    "StoreOfOthers",
    "StoreTaken",
    "StoreTrouble",
    "StoreUnreadable",
]
