"""Decisions into words: one text that fits, in the alphabet that phones share, in the trade's words."""
