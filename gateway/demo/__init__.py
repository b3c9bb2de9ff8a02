"""The demo boat, its phones, the pretend carrier and the embedded broker: real parts on loopback."""
