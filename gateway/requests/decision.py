"""What a stage decides: facts to record, answers to tell, commands to publish. In this order the desk takes them."""

from dataclasses import dataclass

from gateway.requests.answers import Answer
from gateway.vocabulary.facts import Fact
from gateway.vocabulary.orders import PublishCommand
from gateway.vocabulary.plain import Plain


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted:
    """A fact to record. chain: a boat's key or ``installation``. sealed: contents of its sealed parts, in order."""

    fact: Fact
    chain: str
    sealed: tuple[Plain, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """All that follows from one happening, as far as requests go. Nothing has changed before the facts are applied."""

    notes: tuple[Noted, ...] = ()
    answers: tuple[Answer, ...] = ()
    orders: tuple[PublishCommand, ...] = ()

    def __add__(self, other: "Decision") -> "Decision":
        """This decision, then the other."""
        return Decision(
            notes=self.notes + other.notes,
            answers=self.answers + other.answers,
            orders=self.orders + other.orders,
        )


NOTHING = Decision()


def noted(chain: str, *facts: Fact) -> Decision:
    """A decision of facts alone, in one chain, without sealed parts."""
    return Decision(notes=tuple(Noted(fact=fact, chain=chain) for fact in facts))


def told(*answers: Answer) -> Decision:
    """A decision of answers alone."""
    return Decision(answers=answers)
