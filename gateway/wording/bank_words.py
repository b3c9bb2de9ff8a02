"""The house bank in words: how full by shunt or volts at rest, how long until its limit; or what is missing."""

from gateway.telling.situation import BankAhead
from gateway.wording.fitting import Piece, Worth, fixed, maybe


def bank_sentence(ahead: BankAhead | None) -> Piece:
    """ ". House bank 78% (shunt), 50% in about 10 h", down to ". 50% in about 10 h"; nothing where nothing is known."""
    if ahead is None:
        return fixed("")
    return maybe(Worth.ADVICE, *(f". {form[:1].upper()}{form[1:]}" for form in bank_forms(ahead)))


def bank_forms(ahead: BankAhead) -> tuple[str, ...]:
    """The forms, fullest first."""
    if ahead.charge is None:
        return (f"house bank: hours left not known, {ahead.missing}", "hours left not known")
    about = "" if ahead.by == "shunt" else "about "
    full = f"house bank {about}{ahead.charge:f}% ({ahead.by})"
    if ahead.left:
        down = f"{ahead.limit:f}% in {ahead.left}"
        return (f"{full}, {down}", down)
    if ahead.missing:
        return (f"{full}, hours left not known: {ahead.missing}", f"{full}, hours left not known", full)
    return (f"{full}, nothing is drawn", full) if ahead.steady else (full,)
