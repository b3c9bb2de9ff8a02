"""The door to the boats' data: one MQTT broker over paho-mqtt, driven by the asyncio loop's own reader.

`MqttBus` keeps one link up for ever; `link` is a single connection from CONNECT to its end; `intake` holds what came
until the service takes it; `patience` says how long to wait before the next attempt and when it looks as if another
client used our id.
"""

from gateway.doors.bus.door import MqttBus
from gateway.doors.bus.patience import Patience

__all__ = ["MqttBus", "Patience"]
