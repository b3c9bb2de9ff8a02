"""German texts: our English on the left, Deutsch rechts. `{names}` stand for what is put in and must be kept.

What a person may text stands in `grammar/german.py`; the words printed here must be read there. GO, DROP and
PROVE stay as they are in every language, because code words are known, and hidden in the record, by them.
"""

GERMAN: dict[str, str] = {
    # phrases
    "ALARMS": "ALARME",
    "PHRASES": "BEFEHLE",
    "HAVE IT": "ÜBERNEHME",
    "HAVE IT {number}": "ÜBERNEHME {number}",
    "CHECKED": "GEPRÜFT",
    "CHECKED {number}": "GEPRÜFT {number}",
    "VISIT": "BESUCH",
    "VISIT OVER": "BESUCH BEENDET",
    "{thing} START": "{thing} STARTEN",
    "{thing} STOP": "{thing} STOPPEN",
    "{thing} ON": "{thing} EIN",
    "{thing} OFF": "{thing} AUS",
    "{thing} OPEN": "{thing} ÖFFNEN",
    "{thing} CLOSE": "{thing} SCHLIESSEN",
    "{one} or {other}": "{one} oder {other}",
    # values and status
    "{thing} off": "{thing} aus",
    "{thing} on": "{thing} an",
    "{thing} not signalling": "{thing} meldet nichts",
    "{thing} SIGNALLING": "{thing} MELDET",
    "{thing} never heard": "{thing} nie gemeldet",
    "{thing} not running ({age} old)": "{thing} läuft nicht (vor {age})",
    "{thing} running ({age} old)": "{thing} läuft (vor {age})",
    "{thing} on ({age} old)": "{thing} an (vor {age})",
    "{thing} off ({age} old)": "{thing} aus (vor {age})",
    "{thing} ({age} old)": "{thing} (vor {age})",
    "{thing} ({age} old, too old to go by)": "{thing} (vor {age}, zu alt)",
    ". No alarm watches it": ". Kein Alarm hängt daran",
    ". No alarm is open on it": ". Kein Alarm dazu offen",
    "nothing is measured of {thing} on this boat. Reply STATUS for what is": (
        "über {thing} wird hier nichts gemessen. Antworte STATUS für alles Gemessene"
    ),
    "no alarm open. ": "kein Alarm offen. ",
    "open: ": "offen: ",
    ": open: ": ": offen: ",
    " and {count} more": " und {count} weitere",
    " and {count} more values": " und {count} weitere Werte",
    ": you can text ": ": Sie können schreiben: ",
    "{alarm} since {time}, nobody has it": "{alarm} seit {time}, noch bei niemandem",
    "{alarm}, nobody has it": "{alarm}, noch bei niemandem",
    "{alarm} since {time}, you have it": "{alarm} seit {time}, bei Ihnen",
    # alarms
    ": {alarm} since {time}": ": {alarm} seit {time}",
    " since {time}": " seit {time}",
    ", was {value} ({limit})": ", war {value} ({limit})",
    ", was {value}": ", war {value}",
    "NOT taken: alarm {number} ": "NICHT übernommen: Alarm {number} ",
    " still has nobody": " ist noch bei niemandem",
    ". If you are dealing with it reply ": ". Wenn Sie sich kümmern, antworten Sie ",
    ". Reply ": ". Antworten Sie ",
    ". If not, do nothing: {name} is told next at {time}": ". Sonst nichts tun: {name} erfährt es um {time}",
    ". If not: {name} is told next at {time}": ". Sonst: {name} um {time}",
    ": alarm {number} is yours": ": Alarm {number} ist bei Ihnen",
    ". CO KILLS: do not go below. Anyone aboard, ill or dizzy: call {number}": (
        ". CO TÖTET: nicht unter Deck. Jemand an Bord, Übelkeit, Schwindel: {number} rufen"
    ),
    "alarm {number} still holds, nothing was changed. Reply {phrase} once it has gone": (
        "Alarm {number} besteht noch, nichts geändert. Danach {phrase} antworten"
    ),
    ": alarm {number}, {name}, closed, ": ": Alarm {number}, {name}, beendet, ",
    "checked by you at {time}": "von Ihnen geprüft um {time}",
    ". It is watched as before": ". Er wird überwacht wie zuvor",
    ". When you have left reply {phrase}": ". Wenn Sie weg sind, antworten Sie {phrase}",
    # visits
    ": visit noted from {time}": ": Besuch vermerkt ab {time}",
    ". Until it ends no text starts an engine or a heater": ". Bis dahin startet kein Text Motor oder Heizung",
    ". When you have left and nobody is aboard reply VISIT OVER": (
        ". Wenn niemand mehr an Bord ist, antworten Sie BESUCH BEENDET"
    ),
    ": visit over at {time}": ": Besuch beendet um {time}",
    " (somebody aboard since {time})": " (jemand an Bord seit {time})",
    ". On your word the boat counts as empty. If anyone is still aboard reply VISIT now": (
        ". Auf Ihr Wort gilt das Boot als leer. Ist noch jemand an Bord, antworten Sie jetzt BESUCH"
    ),
    ": no visit of yours stood here, she counts as empty now": (
        ": hier war kein Besuch von Ihnen, es gilt jetzt als leer"
    ),
    ". Your visit to ": ". Ihr Besuch auf ",
    " still stands": " besteht noch",
    ". When you have left reply with her name and VISIT OVER": (
        ". Wenn Sie weg sind, antworten Sie mit dessen Namen und BESUCH BEENDET"
    ),
    # duty
    ". Will you? Reply DUTY ME, else DUTY OFF": ". Antworten Sie DIENST ICH, sonst DIENST ENDE",
    ". To hand it on reply DUTY and a name": ". Zum Abgeben antworten Sie DIENST und einen Namen",
    ". To ask one reply DUTY and the name": ". Zum Fragen antworten Sie DIENST und den Namen",
    ". To ask another reply DUTY and a name": ". Zum Fragen antworten Sie DIENST und einen Namen",
    # switching
    ": switch {thing} off": ": {thing} ausschalten",
    ": switch {thing} on": ": {thing} einschalten",
    ": start {thing}": ": {thing} starten",
    ": stop {thing}": ": {thing} stoppen",
    " until {time}?": " bis {time}?",
    " for {time}?": " für {time}?",
    " Unopened fridge holds about 4 h.": " Ungeöffnet hält er etwa 4 h.",
    " Reply GO {code} by {time}": " Antworten Sie GO {code} bis {time}",
    " or DROP {code}": " oder DROP {code}",
    ": {thing} NOT switched on": ": {thing} NICHT eingeschaltet",
    ": {thing} NOT switched off": ": {thing} NICHT ausgeschaltet",
    ": {thing} NOT started": ": {thing} NICHT gestartet",
    ": {thing} NOT stopped": ": {thing} NICHT gestoppt",
    ". {thing} is on already": ". {thing} ist schon an",
    ". A text can't change this": ". Ein Text ändert das nicht",
    ". Nothing was switched": ". Nichts geschaltet",
    ". Nobody has proved your number yet": ". Ihre Nummer ist noch nicht bestätigt",
    ". Nothing came from your number for 60 days": ". Von Ihrer Nummer kam 60 Tage nichts",
    ". Your number is not proved": ". Ihre Nummer ist nicht bestätigt",
    ". Reply PROVE {code} by {time}": ". Antworten Sie PROVE {code} bis {time}",
    ", then ask again": ", dann neu anfragen",
    "Your number is proved, it may command now. Nothing was switched. Ask again for what you want": (
        "Ihre Nummer ist bestätigt und darf jetzt schalten. Nichts geschaltet. Fragen Sie neu an"
    ),
    ". On for {time}, needs {least}": ". An seit {time}, nötig {least}",
    ". Off for {time}, needs {least}": ". Aus seit {time}, nötig {least}",
    ". Wait {time} more": ". Noch {time} warten",
    "Nothing is waiting for a GO or DROP from you. Nothing was switched": (
        "Nichts wartet auf GO oder DROP von Ihnen. Nichts geschaltet"
    ),
    ". Ask first, then reply with the words you are sent": ". Erst fragen, dann mit den gesandten Wörtern antworten",
    # not understood
    "not understood. Nothing was done": "nicht verstanden. Nichts getan",
    "Not understood. Nothing was done": "Nicht verstanden. Nichts getan",
    ". Did you mean {phrases}?": ". Meinten Sie {phrases}?",
    " Reply PHRASES for what can be texted": " BEFEHLE zeigt, was geht",
    ". Reply PHRASES for what can be texted": ". BEFEHLE zeigt, was geht",
    "{thing} does not know that word, only START and STOP. Nothing was done": (
        "{thing} kennt nur STARTEN und STOPPEN. Nichts getan"
    ),
    "{thing} does not know that word, only ON and OFF. Nothing was done": "{thing} kennt nur EIN und AUS. Nichts getan",
    "no time can be set here, it would bring {thing} back later unasked. Nothing was done": (
        "hier geht keine Zeit, {thing} käme später von selbst wieder. Nichts getan"
    ),
    ". Reply {phrase}": ". Antworten Sie {phrase}",
    "that time can't be read. Nothing was done": "diese Zeit ist nicht lesbar. Nichts getan",
    ". Write FOR 2 H or UNTIL 18:00, at most 24 hours": ". Schreiben Sie FÜR 2 H oder BIS 18:00, höchstens 24 h",
}
