"""The demo boat, its phones, the pretend carrier and the embedded broker: real parts on loopback.

What is simulated here is pure and deterministic (`boat`, `generating_set`, `relay_node`); what carries it is real: a
broker as a child process (`broker`) and the boat's own MQTT client (`boat_link`). No real boat is ever reached.
"""
