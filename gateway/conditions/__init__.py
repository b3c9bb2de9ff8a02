"""When readings amount to a condition: limits, delays, silence, windows, rates, positions."""
