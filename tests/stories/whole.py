"""A story through the real service: broker, wire, carrier's client and store are real, only time is quick."""

from pathlib import Path
from typing import Literal

from gateway.demo.director import Cue
from gateway.vocabulary.moments import Ms
from tests.rehearsal.again import again
from tests.service.quay import Quay, moored
from tests.stories.desk_alone import happen
from tests.stories.script import NAMES, Happens, Played, Restart, Story, clock


async def play_whole(story: Story, folder: Path, kind: Literal["any", "mosquitto", "iotcore"]) -> Played:
    """Play it on this kind of broker."""
    async with moored(folder, begins=story.begins, kind=kind) as quay:
        story.change(quay.folder)
        await quay.say([(topic, payload, True) for topic, payload in story.before])
        await quay.start()
        played = Played()
        after = story.begins - 1
        for restart in story.restarts:
            await _until(quay, story, played, after, restart.at)
            await _restart(quay, restart, played)
            after = restart.at
        await _until(quay, story, played, after, story.ends)
        bundle = quay.now_running.service.desk.bundle
        await quay.stop()
        _gather(quay, played)
        played.verified = quay.report().ok
        replay = again(quay.store, bundle)
        assert replay.different is None, replay.different
        assert replay.exact, "taken in again, the record comes out hash for hash"
        return played


async def _until(quay: Quay, story: Story, played: Played, after: Ms, until: Ms) -> None:
    director = quay.now_running.director
    director.after_moment = lambda at: _gather(quay, played, at)

    def cue(one: Happens) -> Cue:
        if one.number:
            return quay.cue(one.at, lambda at: quay.carrier.text_in(one.number, played.words_of(one), at))
        return quay.cue(one.at, lambda _: happen(quay.boat, one))

    await quay.play(until, *map(cue, story.between(after, until)))


async def _restart(quay: Quay, restart: Restart, played: Played) -> None:
    await (quay.stop() if restart.in_order else quay.crash())
    if restart.away:
        await quay.alone(restart.at + restart.away)
    await quay.start()
    _gather(quay, played)


def _gather(quay: Quay, played: Played, at: Ms | None = None) -> None:
    """What went out since the last look."""
    sent = quay.carrier.sent[len(played.texts) :]
    played.texts += [(clock(text.at), NAMES[text.number], text.body) for text in sent]
    new = quay.obeyed[len(played.obeyed) :]
    played.obeyed += [f"{clock(at if at is not None else quay.clock.now())} {words}" for words in new]
