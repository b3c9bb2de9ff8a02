"""The nearest valid wording for a condition sentence that cannot be read.

Every other way of saying it that we thought of is a row here. What comes out is only ever shown to the installer, after
the reader has read it; it is never taken for what was written.
"""

import re
from collections.abc import Callable, Iterator
from decimal import Decimal

_DOUBLED = "started at least 2 times as often as the hour before in each of the last 2 hours"

_NUMBER = r"-?\d+(?:\.\d+)?"

_AFTER_NAME = "on|off|above|below|at|is|outside|between|changed|started|rising|falling|unreadable|not"
_VERBS = (
    rf"(?:{_AFTER_NAME}|stays|gets|goes|reads|becomes|was|has|drops|rises|falls|turns|switched|ran|runs|starts|news)\b"
)


def _lower_first(found: re.Match[str]) -> str:
    low, high = sorted((found[2], found[4]), key=Decimal)
    return f"{found[1]} {low}{f' {found[3]}' if found[3] else ''} and {high}"


_ROWS: tuple[tuple[str, str | Callable[[re.Match[str]], str]], ...] = (
    # as it is spoken: names in two words, a condition before its sentence, degrees, quotation marks
    (r"[\"'\u201c\u201d]", ""),
    (r"^(if|when|whenever) ", ""),
    (r"(?<=\S) (when|whenever|whilst|as long as|if) (?=[a-z])", " while "),
    (r"(?<=\d) ?(\u00b0|degrees?|deg)? ?(C|F|celsius)\b", lambda m: f" {m[2][0].upper()}"),
    (r"\b(drops|falls|sinks|goes|gets|is|stays|remains) below\b", "below"),
    (r"\b(rises|climbs|goes|gets|is|stays|remains) above\b", "above"),
    (r"\bat or (below|under)\b", "at most"),
    (r"\bat or (above|over)\b", "at least"),
    (rf"^(?!(?:and|or|not|no|while)\b)([a-z]+) (?!{_VERBS})([a-z]+) (?=({_AFTER_NAME})\b)", r"\1-\2 "),
    (r"\babove ([a-z][\w-]*) ?(?:\+|plus) ?(?=\d)", r"above \1 by "),
    (r"\bbelow ([a-z][\w-]*) ?(?:-|minus) ?(?=\d)", r"below \1 by "),
    (r"\bchanged (?:within|in|during)(?: the last)? (?=\d)", "changed in the last "),
    (r"^no news (?:since|in|within|during|for the last|in the last)? ?(?=\d)", "no news for "),
    (r"^(?!.*\bfor\b)(.*\b(?:on|off|\d ?[^\W\d]+|%)) ((?:\d+ ?(?:s|min|h|days?) ?)+)$", r"\1 for \2"),
    (
        r"^(?!\d+ of )([a-z][\w-]*) (?:is |lies )?(?:further|farther|more) than (?=\d+ ?m)",
        r"3 of 5 fixes of \1 further than ",
    ),
    (rf"\b(outside|between) ({_NUMBER}) ?([^\W\d]+)? and ({_NUMBER})", _lower_first),
    # numbers
    (r"(?<=\d),(?=\d)", "."),
    (r"(?<![\w.])\.(?=\d)", "0."),
    (r"(?<=\d)\.(?=\s|$)", ""),
    (r"(?<![\w.])\+(?=\d)", ""),
    (r"[\u2212\u2013](?=\d)", "-"),
    # windows, rates, bands, joining
    (r"\b(hysteresis|dead band|dead-band)( of)?\b", "deadband"),
    (r"(?<! with) deadband\b", " with deadband"),
    (r"&&|\s&\s", " and "),
    (r"\|\|", " or "),
    (r"\b(ran|runs|running|been on)( for)?( longer| more)? than\b", "on for more than"),
    (r"\b(on|off) (for )?(longer|more) than\b(?=.*\b(last|hour|day)\b)", r"\1 for more than"),
    (
        r"\b(starts|started|starting|cycles) (doubled|doubling|doubles) (twice|2 times|two times)( running| in a row)?",
        _DOUBLED,
    ),
    (r"\b(as often as|than) (in )?(the )?(last|previous|prior) hour\b", "as often as the hour before"),
    (r"\btwice as often\b", "2 times as often"),
    (r"\b(starts|starting|started)( at least)? (?=\d+ times as often)", "started at least "),
    (r"\b(starts|cycles|cycled|started|switched on)( more often than| over| more than)\b", "started more than"),
    (r"\b(started more) (often )?than (usual|normal|its mean)\b", r"\1 than 2 times its mean"),
    (r"\b(more than) twice\b", r"\1 2 times"),
    (r"\b(more than) three times\b", r"\1 3 times"),
    (r"\btimes (its|the|their) (mean|average|usual number|usual|normal)\b", "times its mean"),
    (r"\b(times its mean) (of|over|in) (the )?(last )?(a|one) week\b", r"\1 of 7 days"),
    (r"\b(times its mean)(?! of\b)", r"\1 of 7 days"),
    (r"(started more than \d+)(?! times?\b)\b", r"\1 times"),
    (r"(times?|min|h|s) (an|per|every|each|a) (hour|day)\b", r"\1 in the last \3"),
    (r"\b(within|during|over) the last\b", "in the last"),
    (r"\bin (an|one|any) (hour|day)\b", r"in the last \2"),
    (r"\b(in the )?past (?=\d|hour|day)", "in the last "),
    (r"\b(increasing|climbing|going up)\b", "rising"),
    (r"\b(decreasing|dropping|sinking|going down)\b", "falling"),
    (r"\b(rising|falling) (by )?(more than|over|at more than|quicker than)\b", r"\1 faster than"),
    (r"\b(rises|falls) (faster|quicker|more) than\b", lambda m: f"{m[1][:4].rstrip('s')}ing faster than"),
    (r"(faster than \S+ ?\S*?) ?(/ ?h|/ ?hour|per hour|each hour|every hour|a hour|per h)\b", r"\1 an hour"),
    (r"\bnot between\b", "outside"),
    (r"(?<!\d )\b(not within|out of) (?=-?\d)", "outside "),
    (r"(?<=[a-z0-9]) (within|inside) (?=-?\d\S* ?\S* (and|to) )", " between "),
    (r"\b((?:outside|between) -?[\d.]+(?: ?[^\W\d]+)?) (?:to|-|or|until) (?=-?\d)", r"\1 and "),
    (r"\b(farther|more) than (?=[\d.]+ ?m(etres)?\b)", "further than "),
    (r"(?<=\d) ?(metres|metre|meters|meter)\b", " m"),
    (r"\b(\d+) out of (\d+)\b", r"\1 of \2"),
    (r"\b(its|the) (berth|mooring|place|position|set point)$", "its set position"),
    (r"\b(unlikely|implausible|unbelievable|not plausible|out of range)\b", "not believable"),
    (r"\bis not believable\b", "not believable"),
    (r"^(\S+) (is |was |has )changed\b", r"\1 changed"),
    (r"^(\S+) changes\b", r"\1 changed"),
    (r"\bunreadable for (\d+) times\b", r"unreadable \1 times"),
    (r"\bcannot be read (\d+) times\b", r"unreadable \1 times"),
    (r"^(.*) (for [^()]*?) (with deadband .*)$", r"\1 \3 \2"),
    (r"( for (?:\d+ ?(?:s|min|h|days?) )+)(and|or) (?=[a-z(])(.+)$", r" \2 \3\1"),
    (r"^\((.*) (for [^()]*)\)$", r"\1 \2"),
    # comparison
    (r"\s*(>=|=>|\u2265)\s*", " at least "),
    (r"\s*(<=|=<|\u2264)\s*", " at most "),
    (r"\s*>\s*", " above "),
    (r"\s*<\s*", " below "),
    (r"\b(is )?(no|not) (more|higher|greater) than\b", "at most"),
    (r"\b(is )?(no|not) (less|lower|under|fewer) than\b", "at least"),
    (r"(?<!for )(?<!started )\b(is )?(greater|more|higher|larger) than\b", "above"),
    (r"\b(is )?(less|lower|smaller|fewer) than\b", "below"),
    (r"\b(is )?(over|exceeds|above)\b", "above"),
    (r"\b(is )?(under|beneath|below)\b", "below"),
    (r"\b(is )?at (the )?least\b", "at least"),
    (r"\b(is )?at (the )?most\b", "at most"),
    (r"\s*(==|=|\bequals\b)\s*", " is "),
    # on and off
    (r"^(\S+) (is |goes |turns |switched )?(true|high|active|closed)\b", r"\1 on"),
    (r"^(\S+) (is |goes |turns |switched )?(false|low|inactive|open)\b", r"\1 off"),
    (r"^(\S+) (goes|turns|switched|stays|becomes) (on|off)\b", r"\1 \3"),
    (r"^(\S+) not on\b", r"\1 off"),
    (r"^(\S+) not off\b", r"\1 on"),
    (r"^(\S+) (becomes|reads|says|equals)\b", r"\1 is"),
    # silence
    (r"^(\S+) (is )?(silent|stale|missing|quiet)\b", r"no news from \1"),
    (r"^no news of\b", "no news from"),
    (r"^(no|without) (data|signal|message|messages|readings|contact)\b", "no news"),
    (r"^(nothing|silence)( from)?\b", r"no news\2"),
    (r"^no news (?!from\b|for\b)(\S+)", r"no news from \1"),
    # lengths of time
    (r"\b(during|since|lasting|longer than)\b", "for"),
    (r"\bfor (at least|more than|over|longer than)\b(?!.*\bin the last\b)", "for"),
    (r"(?<=\d) ?(seconds|second|secs|sec)\b", " s"),
    (r"(?<=\d) ?(minutes|minute|mins)\b", " min"),
    (r"(?<=\d)(?<!each of the last \d) ?(hours|hour|hrs|hr)\b", " h"),
    (r"(?<=\d) ?d\b", " day"),
    (r"\bfor (an|one) (h|hour)\b", "for 1 h"),
    (r"\bfor (a|one) (min|minute)\b", "for 1 min"),
    (r"\bfor (a|one) day\b", "for 1 day"),
    (r"\bfor half an hour\b", "for 30 min"),
    (r"\bfor (\d+) ?m\b", r"for \1 min"),
    (r"(?<=[a-z])(?=\d+ ?(min|s)\b)", " "),
    (r"(?<= (?:min|day)) (and )?(?=\d)", " "),
    (r"(?<= h) (and )?(?=\d)", " "),
    (r"(?<=\d h), ?", " "),
)

_UNITS = {"s": 1, "min": 60, "h": 3_600, "day": 86_400, "days": 86_400}


def mended_wordings(text: str) -> Iterator[str]:
    """Wordings to try, the least changed first. Not checked: the reader decides which of them can be read."""
    plain = " ".join(text.split()).strip(" .!?;\"'\u201c\u201d")
    yield plain
    yield _lower_names(plain)
    wording = _one_by_one(_lower_names(plain))
    yield wording
    yield _lengths_in_order(wording)
    lowered = _one_by_one(plain.lower())
    yield lowered
    yield _lengths_in_order(lowered)
    yield re.sub(r"( for)?( -?0+ ?\w*)?$", "", lowered)


def example_for(text: str) -> str:
    """The pattern that the beginning of `text` comes closest to, as an example."""
    lowered = text.lower()
    for pattern, example in _BY_WORD:
        if re.search(pattern, lowered):
            return example
    name = next(iter(re.findall(r"^\s*([a-z][a-z0-9]*(?:-[a-z0-9]+)*)(?=\s)", lowered)), "")
    if name in ("no", "nothing", "silence") or "news" in lowered:
        return "no news from heartbeat for 10 min"
    signal = name if name and name not in _NO_NAMES else ""
    if re.search(r"^\s*[\w-]+ (on|off)\b", lowered):
        return f"{signal or 'bilge-high'} on for 10 s"
    if re.search(r"\d", re.sub(r"\bfor .*", "", lowered)) or re.search(r"\b(above|below|at|least|most)\b", lowered):
        return f"{signal or 'house-volts'} below 12.0 V for 10 min"
    if re.search(r"\bis\b", lowered):
        return f"{signal or 'selector'} is REMOTE for 5 s"
    return f"{signal or 'bilge-high'} on for 10 s"


_NO_NAMES = frozenset(["on", "off", "at", "is", "for", "above", "below", "and", "or", "not", "while", "gone"])

_BY_WORD = (
    (r"^\(+no news\b[^()]*\)+ for\b", "no news from heartbeat for 10 min"),
    (r"\bfix(es)?\b", "3 of 5 fixes of position further than 25 m from its set position"),
    (r"\b(mean|average|usual|normal)\b", "bilge-pump started more than 2 times its mean of 7 days in the last hour"),
    (r"\bdoubl(ed|es|ing)\b|\bas often\b|\bhour before\b", f"bilge-pump {_DOUBLED}"),
    (r"\bstart(s|ed)\b", "bilge-pump started more than 3 times in the last hour"),
    (r"\b(last|ran|runs)\b", "bilge-pump on for more than 20 min in the last hour"),
    (r"\b(rising|falling|faster)\b", "fuel-level falling faster than 2 % an hour"),
    (r"\b(outside|between)\b", "house-volts outside 11.5 and 15.0 V for 30 s"),
    (r"\bunreadable\b", "cabin unreadable 5 times"),
    (r"\bbelievable\b", "cabin not believable for 5 min"),
    (r"\bdeadband\b", "house-volts below 12.0 V with deadband 0.2 V for 10 min"),
    (r"\bwhile\b", "fridge above 8 C for 2 h while shore on"),
    (r"[()]|\band\b.*\bor\b|\bor\b.*\band\b", "(bilge-high on or bilge-aft on) and shore off"),
    (r"\band\b", "shore off and house-volts below 12.2 V for 10 min"),
    (r"\bor\b", "bilge-high on or bilge-aft on"),
)
"""The pattern that a word of the sentence points to, the most telling word first."""


def _lower_names(text: str) -> str:
    """The signal's name with small letters and hyphens; the rest as it stands."""
    first, _, rest = text.partition(" ")
    return f"{re.sub('[_.]', '-', first.lower())} {rest}"


def _one_by_one(text: str) -> str:
    for pattern, instead in _ROWS:
        text = re.sub(pattern, instead, text)
    text = re.sub(r"(?<![\w.])-?\d+(?:\.\d+)?[eE][+-]?\d{1,2}(?!\w)", _without_exponent, text)
    return " ".join(text.split())


def _without_exponent(found: re.Match[str]) -> str:
    return f"{Decimal(found.group()):f}"


def _lengths_in_order(text: str) -> str:
    """Parts of hours as minutes, units from the longest to the shortest."""
    head, word, tail = text.rpartition(" for ")
    if re.search(r"[^\W\d]", re.sub(r"\b(s|min|h|days|day|and)\b", "", tail)):
        return text
    parts = re.findall(rf"({_NUMBER}) ?(s|min|h|days|day)\b", tail)
    seconds = sum(Decimal(count) * _UNITS[unit] for count, unit in parts)
    if not word or not parts or seconds <= 0 or seconds != int(seconds) or len(tail) > 40:
        return text
    said = []
    left = int(seconds)
    for name in ("day", "h", "min", "s"):
        count, left = divmod(left, _UNITS[name])
        if count:
            said.append(f"{count} {name}")
    return f"{head} for {' '.join(said)}"
