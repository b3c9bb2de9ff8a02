"""The fact that one event makes in the life of one request."""

from dataclasses import replace
from typing import TypeVar

from gateway.requests.answers import CodeTrouble, NotDone, NotProved, NotSent, Proved
from gateway.requests.asked import line_of
from gateway.requests.codes import mark_of
from gateway.requests.decision import Decision, noted
from gateway.requests.facts import CodeSpent, RequestStep
from gateway.requests.interlocks import Checked
from gateway.requests.life import RequestEvent, step
from gateway.requests.state import Request
from gateway.vocabulary.moments import Ms

A = TypeVar("A", NotDone, NotProved, NotSent, Proved)


def stepped(
    request: Request,
    event: RequestEvent,
    checked: Checked | None = None,
    *,
    seen_at: Ms | None = None,
    measured: str = "",
) -> RequestStep:
    """The step, with the interlocks it rests on. Raises ValueError when the table of the life refuses it: the stage
    that asks for it has then taken a wrong turn, and nothing may come of it."""
    after = step(request.state, event)
    if after is None:
        raise ValueError(f"request {request.id}: no {event} while {request.state}")
    return RequestStep(
        request=request.id,
        event=event,
        before=request.state,
        after=after,
        boat=request.boat,
        equipment=request.equipment,
        action=request.action,
        person=request.person,
        run=request.run,
        until=request.until,
        values=checked.values if checked is not None else (),
        objections=tuple(map(line_of, checked.objections)) if checked is not None else (),
        seen_at=seen_at,
        measured=measured,
    )


def after(request: Request, event: RequestEvent) -> Request:
    """The request as it stands after the step, for the next step of the same decision."""
    return replace(request, state=stepped(request, event).after)


def code_ended(request: Request, event: RequestEvent, trouble: CodeTrouble, checked: Checked | None = None) -> Decision:
    """A request that waited for its code goes on or ends, and its code is dead. trouble: what is answered from now on
    when the words come again."""
    spent = CodeSpent(
        request=request.id, person=request.asked_last, trouble=trouble, mark=mark_of(request.id, request.words)
    )
    return noted(request.boat, stepped(request, event, checked), spent)


def told_to_all(request: Request, answer: A) -> tuple[A, ...]:
    """An answer to whoever asked, and the same to the second person whose word was needed."""
    return (answer,) if not request.second else (answer, replace(answer, person=request.second))
