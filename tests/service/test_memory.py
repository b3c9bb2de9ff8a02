"""What is told while nothing can be recorded: emergencies and alarms, each once in ten minutes; nothing is switched."""

from dataclasses import replace

from gateway.desk.turn import Turn
from gateway.service.items import Gathered, Item
from gateway.service.memory import ONCE_EVERY, FromMemory
from gateway.vocabulary.happenings import TimeCame
from gateway.vocabulary.moments import HOUR, MINUTE, Ms
from gateway.vocabulary.orders import Order, PublishCommand, SendMail, SendText
from gateway.vocabulary.priority import Priority

TEXT = SendText(
    id="t",
    carrier="main",
    person="ines",
    number="+447700900123",
    body="GREY WAGTAIL: bilge high water",
    priority=Priority.EMERGENCY,
    valid_for=4 * HOUR,
)
COMMAND = PublishCommand(id="c", broker="quay", topic="t", payload="{}", expires_after=MINUTE)
MAIL = SendMail(id="m", person="ruth", address="ruth@example.org", subject="s", body="b", at=0)


def gathered(*orders: Order, now: Ms = 0) -> Gathered:
    found = Gathered()
    found.add(Item(TimeCame()), Turn(happening=1, now=now, entries=(), orders=orders, readings=()))
    return found


def failing() -> FromMemory:
    memory = FromMemory()
    assert memory.failed(0)
    return memory


def test_emergencies_and_alarms_are_told_and_nothing_of_lesser_weight_no_mail_and_no_command() -> None:
    texts = [replace(TEXT, id=priority, person=priority, priority=priority) for priority in Priority]
    going = failing().to_send(gathered(*texts, COMMAND, MAIL), 0)
    assert [order.priority for order in going] == [Priority.EMERGENCY, Priority.ALARM]


def test_what_was_looked_through_once_is_not_told_again_at_the_next_try() -> None:
    memory, found = failing(), gathered(TEXT)
    assert memory.to_send(found, 0) == [TEXT]
    assert memory.to_send(found, ONCE_EVERY) == []


def test_the_same_matter_is_told_again_after_ten_minutes_and_not_a_millisecond_earlier() -> None:
    memory = failing()
    assert memory.to_send(gathered(TEXT), 0) == [TEXT]
    assert memory.to_send(gathered(TEXT), ONCE_EVERY - 1) == []
    assert memory.to_send(gathered(TEXT), ONCE_EVERY) == [TEXT]
    assert ONCE_EVERY == 10 * MINUTE


def test_the_gap_says_since_when_and_what_was_told_without_words_or_numbers() -> None:
    memory = failing()
    memory.to_send(gathered(TEXT), 5)
    gap = memory.gap(MINUTE)
    assert (gap.since, gap.until) == (0, MINUTE)
    assert gap.told == ("5 ines",)
    assert TEXT.number not in str(gap)
    assert "bilge" not in str(gap)
