"""The life of a request as a table."""

import itertools

from gateway.requests.life import ENDS, LEFT, STEPS, UNDER_WAY, RequestEvent, RequestState, step

S, E = RequestState, RequestEvent


def test_every_state_has_a_row_and_every_pair_is_decided() -> None:
    assert set(STEPS) == set(LEFT) == set(S)
    for state, event in itertools.product(S, E):
        assert (event in STEPS[state]) != (event in LEFT[state]), f"{state}, {event}: in one of the two tables"
        assert (step(state, event) is None) == (event in LEFT[state])


def test_a_command_is_sent_from_confirmed_only_and_confirmed_only_from_a_wait_for_a_code() -> None:
    into = {target: {(s, e) for s, row in STEPS.items() for e, t in row.items() if t is target} for target in S}
    assert into[S.SENT] == {(S.CONFIRMED, E.SEND)}
    assert into[S.CONFIRMED] == {(S.WAITING, E.CONFIRM), (S.SECOND, E.CONFIRM)}
    assert into[S.SECOND] == {(S.WAITING, E.PASS_ON), (S.SECOND, E.RESTART)}
    assert into[S.PROVED] == {(S.SEEN, E.PROVE)}


def test_nothing_leads_back_so_no_command_goes_out_twice() -> None:
    def reached(state: RequestState) -> set[RequestState]:
        found: set[RequestState] = set()
        edge = {state}
        while edge:
            edge = {t for s in edge for t in STEPS[s].values()} - found
            found |= edge
        return found

    assert S.SENT not in reached(S.SENT)
    assert S.CONFIRMED not in reached(S.CONFIRMED)


def test_every_end_is_an_end_and_every_other_state_can_end() -> None:
    assert {S.REFUSED, S.EXPIRED, S.VOID, S.WITHDRAWN, S.REPLACED, S.LAPSED, S.NOT_SENT, S.PROVED, S.UNPROVEN} == ENDS
    for state in set(S) - ENDS:
        assert set(STEPS[state].values()) - {state}


def test_a_restart_makes_every_command_under_way_unproven() -> None:
    assert {step(state, E.RESTART) for state in UNDER_WAY} == {S.UNPROVEN}
    assert step(S.WAITING, E.RESTART) is S.WAITING
