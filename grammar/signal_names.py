"""How a signal may be called."""

import re

_KEBAB = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


def is_signal_name(name: str) -> bool:
    """Whether `name` is lower-case words and digits joined by single hyphens, beginning with a letter
    (`house-volts`, `no-news-x`). Our choice, so that a name is also a TOML bare key and one word of a sentence."""
    return _KEBAB.fullmatch(name) is not None
