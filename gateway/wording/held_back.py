"""What a limit held back is said in the next text that has room for it: nothing is dropped without a word."""

from gateway.wording.alphabet import ONE_PART_SEPTETS, plain, septets
from gateway.wording.phrasebook import speaking, translated


def with_held(text: str, numbers: tuple[int, ...], language: str = "en") -> tuple[str, tuple[int, ...]]:
    """The text, with what was held back behind it, and which of that it says; nothing when there is no room, so that a
    later text says it. numbers: of the alarms of which a text was held back. language: the reader's."""
    if not numbers:
        return text, ()
    listed = ", ".join(map(str, numbers))
    for behind in (f". Held back from you: {listed}. Reply ALARMS", f". {len(numbers)} held back: ALARMS"):
        with speaking(language):
            longer = text + plain(translated(behind))
        taken = septets(longer)
        if taken is not None and taken <= ONE_PART_SEPTETS:
            return longer, numbers
    return text, ()
