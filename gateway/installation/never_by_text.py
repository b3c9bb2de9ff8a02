"""What can never be switched by text, whatever the interlocks (handbook 5.3), by its names in each language."""

import re
from collections.abc import Iterable

_PETROL = "a petrol engine needs its blower run and a look into the bilge before starting, and a text cannot look"
_LIGHTS = "anchor and navigation lights are how other vessels see the boat"
_DISTRESS = "distress, radio and man-overboard equipment must not depend on a text"
_MOVES = "people may be in the way of what moves"
_WATER = "water over the side or into the boat is for somebody who stands there"
_LAW = "discharging it is forbidden by law in most waters"
_FIRE = "a fire needs somebody who sees it"
_PROTECTION = "what has tripped or latched must be looked at before it is set back"
_MAINS = "somebody may be working on the shore side or on what it feeds"
_POWER = "it also feeds pumps or detectors"

_NEVER: tuple[tuple[str, str], ...] = (
    (r"petrol|gasoline|outboards?", _PETROL),
    (r"(anchor|navigation|nav|riding|steaming|masthead|running) (lights?|lamps?)", _LIGHTS),
    (r"vhf|ais|epirb|distress|mayday|man overboard|mob", _DISTRESS),
    (r"(bow |stern )?thrusters?|windlass|capstan|steering|rudder|autopilot|davits?|passerelle|gangway|crane", _MOVES),
    (r"(port |starboard |main )?engines?(?! (room|space|bay))|propulsion|gearbox", _MOVES),
    (r"(garage|watertight|shell|hull) doors?", _MOVES),
    (r"sea ?cocks?|through hull|raw water", _WATER),
    (r"(grey|gray|black) water|holding tank|macerator|sewage|discharge", _LAW),
    (r"extinguish(er|ers|ing)|fire (release|suppression)", _FIRE),
    (r"stove|oven|cooker|hob|galley heat", _FIRE),
    (r"(battery )?main switch|battery (switch|isolator)", _POWER),
    (r"earth leakage|rcd|elci|gfci|residual current|breaker reset|overcrank|bms|latch", _PROTECTION),
    (r"(smoke|gas|fire|co) (detector|alarm)|detectors?|lock ?out", _PROTECTION),
    (r"galvanic|isolation transformer|cathodic|anodes?", _MAINS),
    (r"shore (power|inlet|lead|supply)|transfer switch", _MAINS),
    # German
    (r"benzin\w*|aussenborder", _PETROL),
    (r"(anker|navigations|positions|topp?|dampfer|heck|seiten)(licht(er)?|laternen?|lampen?)", _LIGHTS),
    (r"(ukw )?funk(geraet|anlage)?|seenot\w*|notruf\w*|mann ueber bord", _DISTRESS),
    (r"(bug|heck)strahl\w*|anker(winde|spill)|\w*ruder(anlage)?|selbststeuer\w*|davits?|kran", _MOVES),
    (r"(haupt|antriebs|boots|backbord|steuerbord)?motor(en)?|(haupt|antriebs)maschinen?", _MOVES),
    (r"(garagen|schott|aussen)(tuer|klappe)(en|n)?", _MOVES),
    (r"see(ventil|wasser)\w*|bordventil\w*|borddurchlass|rumpfdurchlass", _WATER),
    (r"(grau|schwarz)wasser\w*|faekalien\w*", _LAW),
    (r"(feuer)?loesch\w*", _FIRE),
    (r"herd|backofen|ofen|kocher|kochfeld", _FIRE),
    (r"(batterie)?(haupt|trenn)schalter", _POWER),
    (r"fi schalter|fehlerstrom\w*|schutzschalter", _PROTECTION),
    (r"(rauch|gas|brand|feuer|co) ?(melder|warner)|wartungssperre", _PROTECTION),
    (r"opferanoden?|anoden|trenntrafo|trenntransformator", _MAINS),
    (r"landstrom(anschluss|kabel|leitung)?|landanschluss|netzumschalter", _MAINS),
)
_WITHOUT_DOTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue"})
_PATTERNS = tuple((re.compile(rf"\b(?:{words})\b"), reason) for words, reason in _NEVER)


def never_by_text(names: Iterable[str]) -> tuple[str, str] | None:
    """The first of the names that tells of something never to be switched by text, and the reason. None: no such."""
    for name in names:
        plain = " ".join(re.findall(r"[a-z0-9]+", name.casefold().translate(_WITHOUT_DOTS)))
        for pattern, reason in _PATTERNS:
            if pattern.search(plain):
                return name, reason
    return None
