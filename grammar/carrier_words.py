"""Words that carriers and providers act on when a text holds nothing else. None of them is ever a command here.

Sources: the carrier's documentation of its opt-out handling (stop, stopall, unsubscribe, cancel, end, quit, revoke,
optout; start, yes, unstop; help, info; arret, arrete, arrett); 47 CFR 64.1200(a)(10) (stop, quit, end, revoke, opt out,
cancel, unsubscribe); other providers' published lists (remove, td, stop all, opt-out). Case does not matter and the
whole text counts; some providers look at the beginning only.
"""

OPT_OUT = frozenset(
    [
        "stop",
        "stopall",
        "stop all",
        "stop-all",
        "unsubscribe",
        "cancel",
        "end",
        "quit",
        "revoke",
        "optout",
        "opt out",
        "opt-out",
        "remove",
        "td",
        "arret",
        "arrêt",
        "arrete",
        "arrête",
        "arrett",
    ]
)
"""Alone in a text they end all texts to that number."""

OPT_IN = frozenset(["start", "yes", "unstop", "help", "info"])
"""Alone in a text they begin texts again, or are answered by the carrier itself."""

CARRIER_WORDS = OPT_OUT | OPT_IN


def begins_with_carrier_word(phrase: str) -> bool:
    """Whether the first word or words of `phrase` (any case) are a carrier's: then it is never printed as a reply."""
    folded = " ".join(phrase.casefold().split())
    return any(folded == word or folded.startswith(f"{word} ") for word in CARRIER_WORDS)
