"""Whether a relay node at a boat does what the gateway relies on, tried on the bench with its load isolated."""
