"""The text carrier, through its own Python client `twilio`. The only place that knows it."""

from gateway.doors.carrier.door import TwilioCarrier
from gateway.doors.carrier.signing import signature_check

__all__ = ["TwilioCarrier", "signature_check"]
