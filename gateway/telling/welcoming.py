"""The first text to a person: who has had it, and how often it was tried."""

from dataclasses import dataclass, field

from gateway.telling.call import WELCOME
from gateway.telling.delivery import NOT_ARRIVED
from gateway.telling.facts import TextAnswered, TextDelayed, TextDelivery, TextOverdue, TextQueued

MOST_TRIES = 3
"""How often the first text goes to one number before it is given up: once a day, so that a phone that was off over a
weekend still gets it (our choice)."""


@dataclass(slots=True)
class Welcomes:
    """had: ids of those who need no first text any more: the carrier has it and has not said that it did not arrive, or
    an older record says that they were there from the first files on. tries: by person, how often it was tried. orders:
    by order, whose it is, while the carrier may yet say what became of it. asked: orders that it has not answered."""

    had: list[str] = field(default_factory=list)
    tries: dict[str, int] = field(default_factory=dict)
    orders: dict[str, str] = field(default_factory=dict)
    asked: list[str] = field(default_factory=list)

    def needs(self, person: str) -> bool:
        """Whether it is to be planned: not had, not on its way to the carrier, not tried too often."""
        if person in self.had or self.given_up(person):
            return False
        return all(self.orders.get(order) != person for order in self.asked)

    def given_up(self, person: str) -> bool:
        """Whether it has been tried as often as it is."""
        return self.tries.get(person, 0) >= MOST_TRIES

    def apply(self, fact: TextQueued | TextAnswered | TextDelayed | TextOverdue | TextDelivery) -> None:
        """Fold one fact in; those of other texts change nothing."""
        match fact:
            case TextQueued(about=about) if about == WELCOME:
                self.tries[fact.person] = self.tries.get(fact.person, 0) + 1
                self.orders[fact.order] = fact.person
                self.asked.append(fact.order)
            case TextAnswered() if fact.order in self.asked:
                self.asked.remove(fact.order)
                if not fact.accepted:
                    self.orders.pop(fact.order, None)
                elif fact.order in self.orders:  # else the carrier said before its answer that it did not arrive
                    self._has(self.orders[fact.order])
            case TextDelivery() if fact.order in self.orders:
                if fact.status in NOT_ARRIVED:
                    person = self.orders.pop(fact.order)
                    self.had = [one for one in self.had if one != person]
                elif fact.status == "delivered":
                    self._has(self.orders.pop(fact.order))
            case _:
                pass

    def _has(self, person: str) -> None:
        if person not in self.had:
            self.had.append(person)

    def files_used(self, renumbered: tuple[str, ...], there_before: tuple[str, ...]) -> None:
        """New files are in use. renumbered: ids of those who have another number, to which nothing has gone yet.
        there_before: of those who need none, because they knew."""
        self.had = [one for one in self.had if one not in renumbered] + list(there_before)
        self.tries = {one: tries for one, tries in self.tries.items() if one not in renumbered}
        self.orders = {order: one for order, one in self.orders.items() if one not in renumbered}
