"""German texts: our English on the left, Deutsch rechts. `{names}` stand for what is put in and must be kept.

What a person may text stands in `grammar/german.py`; the words printed here must be read there. GO, DROP and
PROVE stay as they are in every language, because code words are known, and hidden in the record, by them.
"""

GERMAN: dict[str, str] = {
    # phrases
    "ALARMS": "ALARME",
    "PHRASES": "BEFEHLE",
    "HAVE IT": "ÜBERNEHME",
    "HAVE IT {nr}": "ÜBERNEHME {nr}",
    "CHECKED": "GEPRÜFT",
    "CHECKED {number}": "GEPRÜFT {number}",
    "VISIT": "BESUCH",
    "VISIT OVER": "BESUCH BEENDET",
    "{THING} START": "{THING} STARTEN",
    "{THING} STOP": "{THING} STOPPEN",
    "{THING} ON": "{THING} EIN",
    "{THING} OFF": "{THING} AUS",
    "{THING} OPEN": "{THING} ÖFFNEN",
    "{THING} CLOSE": "{THING} SCHLIESSEN",
    "{ONE} or {OTHER}": "{ONE} oder {OTHER}",
    "{ONE}, {OTHER}": "{ONE}, {OTHER}",
    # duty that ends
    ": your duty ended {time}": ": Ihr Dienst endete {time}",
    ". On duty now: {name}": ". Dienst hat jetzt {name}",
    "nobody, so all of the roster are told": "niemand, alle des Dienstplans erfahren es",
    ": you are on duty now by the roster": ": Sie haben jetzt Dienst nach Plan",
    ": you are on duty now by the roster until {time}": ": Sie haben jetzt Dienst nach Plan bis {time}",
    ", no longer {name}": ", nicht mehr {name}",
    ". Open alarms: {numbers}": ". Offene Alarme: {numbers}",
    # practice alarms
    "PRACTICE. ": "ÜBUNG. ",
    "PRACTICE OVER": "ÜBUNG BEENDET",
    ". Only a practice alarm": ". Nur ein Übungsalarm",
    ", set off by {name}": ", ausgelöst von {name}",
    ". Do not set out": ". Nicht losfahren",
    ". Nothing is switched": ". Nichts wird geschaltet",
    ". To show that it reached you reply HAVE IT": ". Kam es an, antworten Sie ÜBERNEHME",
    ": call-out of {alarm} begins": ": Übung zu {alarm} beginnt",
    ". First told: {names}": ". Zuerst: {names}",
    ". Over at {time} if nobody has it": ". Ende um {time}, wenn niemand übernimmt",
    ". To end it reply PRACTICE OVER": ". Beenden mit ÜBUNG BEENDET",
    ": call-out of {alarm} is over": ": {alarm}: Übung zu Ende",
    ", {name} had it after {time}": ", {name} übernahm nach {time}",
    ", you had it after {time}": ", Sie übernahmen nach {time}",
    ", {name} ended it after {time}": ", {name} beendete sie nach {time}",
    ", you ended it after {time}": ", Sie beendeten sie nach {time}",
    ", nobody replied HAVE IT": ", niemand schrieb ÜBERNEHME",
    ", a true alarm has come": ", ein echter Alarm ist da",
    ", the installation was changed": ", die Anlage wurde geändert",
    ". {texts} to {people}, {arrived} arrived so far": ". {texts} an {people}, bisher {arrived} angekommen",
    "1 person": "1 Person",
    "{nr} people": "{nr} Personen",
    "1 text": "1 Text",
    "{nr} texts": "{nr} Texte",
    ". What comes now is true": ". Was jetzt kommt, ist echt",
    ". Nobody was told of anything": ". Niemand bekam etwas",
    ": a practice alarm is for {who} to set off": ": einen Übungsalarm löst nur {who} aus",
    ': no alarm point is called "{name}"': ': kein Alarmpunkt heißt "{name}"',
    ". Its name stands in every text of it": ". Sein Name steht in jedem seiner Texte",
    ": alarm {number} waits for somebody": ": Alarm {number} wartet auf jemanden",
    ". Once somebody has it ask again": ". Hat ihn jemand, neu fragen",
    ": {alarm} is practised already": ": {alarm} wird schon geübt",
    ". Reply PRACTICE OVER first": ". Erst ÜBUNG BEENDET",
    ": nobody would be told of it now": ": jetzt erführe es niemand",
    ": no practice alarm goes on": ": kein Übungsalarm läuft",
    ": there were {count} practice alarms within a day, the most there may be": (
        ": am Tag sind höchstens {count} Übungsalarme möglich"
    ),
    ". First told: {nr} persons": ". Zuerst: {nr} Personen",
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
    "alarm {number} has not gone yet. Nothing was changed. Reply {phrase} once it has": (
        "Alarm {number} ist noch nicht vorbei. Nichts geändert. Danach {phrase} antworten"
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
    " Reply GO {code} {line} and both words of line {other} on your paper list by {time}": (
        " Antworten Sie GO {code} {line} und beide Wörter der Zeile {other} Ihrer Papierliste bis {time}"
    ),
    " Reply GO {code} {line} + list line {other} by {time}": (
        " Antworten Sie GO {code} {line} + Zeile {other} der Liste bis {time}"
    ),
    " GO {code} {line} + paper by {time}": " GO {code} {line} + Papier bis {time}",
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
    ". Text each by itself: {phrases}": ". Je ein Text: {phrases}",
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
    "one text is for one alarm. Nothing was done": "ein Text gilt für einen Alarm. Nichts getan",
    "GO, DROP and PROVE each need two words. Nothing was done": "GO, DROP und PROVE brauchen zwei Wörter. Nichts getan",
    "GO belongs before the two words. Nothing was done": "vor die zwei Wörter gehört GO. Nichts getan",
    "PROVE belongs before the two words. Nothing was done": "vor die zwei Wörter gehört PROVE. Nichts getan",
    ". Copy all of it from the last text": ". Schreiben Sie alles aus dem letzten Text ab",
    "nobody was named whose phone is lost. Nothing was done": "kein Name zum verlorenen Telefon. Nichts getan",
    ". Reply PHONE LOST and the name, or PHONE LOST ME": (
        ". Antworten Sie TELEFON VERLOREN und den Namen, oder TELEFON VERLOREN ICH"
    ),
    "that time can't be read. Nothing was done": "diese Zeit ist nicht lesbar. Nichts getan",
    ". Write FOR 2 H or UNTIL 18:00, at most 24 hours": ". Schreiben Sie FÜR 2 H oder BIS 18:00, höchstens 24 h",
    # cautions: what keeps somebody from harm; nothing of it may be lost
    ". Boat may be on fire": ". Feuer an Bord möglich",
    ". Gas may explode": ". Gas kann explodieren",
    ". CO KILLS": ". CO TÖTET",
    ". Boat may be flooding": ". Das Boot kann volllaufen",
    ". Somebody may be aboard": ". Vielleicht ist jemand an Bord",
    ". Boat may be adrift": ". Das Boot treibt vielleicht",
    ". Fire service: {number}": ". Feuerwehr: {number}",
    ". Do not go below": ". Nicht unter Deck gehen",
    ". Do not go aboard": ". Nicht an Bord gehen",
    ". No switches, no flame, no phone aboard": ". Kein Schalter, keine Flamme, kein Telefon an Bord",
    ". No switches, no flame": ". Kein Schalter, keine Flamme",
    ". No proof that a fire is out": ". Kein Beweis, dass ein Feuer aus ist",
    ". No proof that the air is clean": ". Kein Beweis für reine Luft",
    ". Before you board: shore lead off": ". Vor dem Betreten: Landstrom ab",
    ". Before you board: shore lead off at post {post}": ". Vor dem Betreten: Landstrom ab an Säule {post}",
    ". Shore lead off first": ". Erst Landstrom ab",
    ". Low in water, gas smell or sparks: stay ashore and call {number}": (
        ". Liegt es tief, Gasgeruch, Funken: an Land bleiben, {number} rufen"
    ),
    ". Gas smell, smoke, sparks or low in water: stay ashore and call {number}": (
        ". Gasgeruch, Rauch, Funken, liegt es tief: an Land bleiben, {number} rufen"
    ),
    ". Do not board. Stay ashore, upwind, and call {number}": (
        ". Nicht an Bord. An Land bleiben, gegen den Wind, {number} rufen"
    ),
    ". Warn boats alongside": ". Nachbarboote warnen",
    ". Do not board: no switches, no flame, no phone there. From a distance call {number}": (
        ". Nicht an Bord: kein Schalter, keine Flamme, kein Telefon dort. Von fern {number} rufen"
    ),
    ". Do not board alone. Somebody there: keep away and call {number}": (
        ". Nicht allein an Bord. Ist jemand da: fernbleiben, {number} rufen"
    ),
    ". Do not jump or swim to her. People in danger: call {number}": (
        ". Nicht hinüberspringen oder schwimmen. Menschen in Gefahr: {number} rufen"
    ),
    " CO KILLS. Only if you KNOW nobody is aboard, alongside or swimming. No sensor can show that.": (
        " CO TÖTET. Nur wenn Sie WISSEN, dass niemand an Bord, nebenan oder im Wasser ist. Das zeigt kein Sensor."
    ),
    " CO KILLS. Only if you KNOW nobody is aboard, alongside or swimming.": (
        " CO TÖTET. Nur wenn Sie WISSEN, dass niemand an Bord, nebenan oder im Wasser ist."
    ),
    " CO KILLS.": " CO TÖTET.",
    ". It may run: CO KILLS": ". Er kann laufen: CO TÖTET",
    ". It may still run: CO KILLS": ". Er kann noch laufen: CO TÖTET",
    ", mind the exhaust": ", Abgas beachten",
    ". Until VISIT OVER no text starts an engine or a heater": (
        ". Bis BESUCH BEENDET startet kein Text Motor oder Heizung"
    ),
    # alarms: how they are told
    ": still {alarm}": ": noch immer {alarm}",
    ", warning": ", Warnung",
    ", caution": ", Hinweis",
    ", nobody took it, ALARM now": ", niemand übernahm, jetzt ALARM",
    ", ALARM now": ", jetzt ALARM",
    ". Nobody has it yet": ". Noch bei niemandem",
    ". Nobody has it": ". Bei niemandem",
    ". Nobody has them yet": ". Noch bei niemandem",
    "; {name} and you told": "; {name} und Sie wissen es",
    "; only you told": "; nur Sie wissen es",
    ". {name} had it, no word since {time}": ". Bei {name}, kein Wort seit {time}",
    ". {name} had it": ". War bei {name}",
    ". Reply HAVE IT {number}": ". Antworten Sie ÜBERNEHME {number}",
    ". Reply HAVE IT for all {count}": ". Für alle {count} ÜBERNEHME",
    ". Reply HAVE IT for all {count}, ALARMS to see them": ". Für alle {count} ÜBERNEHME, ALARME zeigt sie",
    ". Reply HAVE IT for all {count} or ALARMS": ". Für alle {count} ÜBERNEHME oder ALARME",
    ". Reply HAVE IT for the {count} named, ALARMS to see more": ". Für die {count} genannten ÜBERNEHME, mehr: ALARME",
    ". Reply HAVE IT for these {count}, or ALARMS": ". Für diese {count} ÜBERNEHME, oder ALARME",
    " or HAVE IT {number}": " oder ÜBERNEHME {number}",
    "{alarm} since {time}": "{alarm} seit {time}",
    "Mon {time}": "Mo {time}",
    "Tue {time}": "Di {time}",
    "Wed {time}": "Mi {time}",
    "Thu {time}": "Do {time}",
    "Fri {time}": "Fr {time}",
    "Sat {time}": "Sa {time}",
    "Sun {time}": "So {time}",
    " on {count} boats": " auf {count} Booten",
    "{count} alarms on {boats} boats": "{count} Alarme auf {boats} Booten",
    "{count} warnings on {boats} boats": "{count} Warnungen auf {boats} Booten",
    "{count} cautions on {boats} boats": "{count} Hinweise auf {boats} Booten",
    ", worst first": ", die schwersten zuerst",
    ". Likely one cause ashore": ". Wohl eine Ursache an Land",
    ". Likely one cause": ". Wohl eine Ursache",
    ", now OK since {time}: ": ", wieder in Ordnung seit {time}: ",
    ". Nobody had {count} of them: reply HAVE IT to close": ". {count} hatte niemand: ÜBERNEHME beendet sie",
    ". {count} other NOT taken, reply ALARMS": ". {count} weiterer NICHT übernommen, siehe ALARME",
    ". {count} others NOT taken, reply ALARMS": ". {count} weitere NICHT übernommen, siehe ALARME",
    ". {count} NOT taken": ". {count} NICHT übernommen",
    ". Call anyone aboard out": ". Wer an Bord ist, heraus",
    "{alarm}, you have it": "{alarm}, bei Ihnen",
    ": alarm {number}, {alarm}, ": ": Alarm {number}, {alarm}, ",
    ". {count} alarm points watched": ". {count} Alarmpunkte überwacht",
    ". Last practice alarm: none on record": ". Letzter Übungsalarm: keiner verzeichnet",
    ". Last practice alarm: {time}": ". Letzter Übungsalarm: {time}",
    "Digest {time}, {count} cautions: ": "Sammeltext {time}, {count} Hinweise: ",
    "Digest {time}, 1 caution: ": "Sammeltext {time}, 1 Hinweis: ",
    ", came and went": ", kam und ging",
    ". Reply ALARMS for what stands": ". ALARME zeigt, was besteht",
    ". None of them stands now": ". Davon besteht nichts mehr",
    "is out of service, returns {time}": "ist außer Betrieb, zurück {time}",
    ": alarm {number} is an emergency and can't be shelved. Reply HAVE IT {same} and look. Nothing was changed": (
        ": Alarm {number} ist ein Notfall, kein Zurückstellen. ÜBERNEHME {same} und nachsehen. Nichts geändert"
    ),
    ": only {names} can say how it is kept. Nothing was changed": (": nur {names} kann das sagen. Nichts geändert"),
    " did not run {began} to {ended}": " lief nicht von {began} bis {ended}",
    ", nothing was watched. ": ", nichts wurde überwacht. ",
    ": link {link} down since {time}": ": Verbindung {link} weg seit {time}",
    ". What needs it is not seen or not told meanwhile": ". Was sie braucht, wird solange nicht gesehen oder gemeldet",
    ". It is tried again all the time": ". Es wird laufend wieder versucht",
    ": no text could be sent for a while. What came meanwhile is over or taken: alarm ": (
        ": eine Weile ging kein Text hinaus. Was da kam, ist vorbei oder übernommen: Alarm "
    ),
    ". The record has the rest": ". Das Protokoll hat den Rest",
    ". Ring {name}: only that phone can undo it, by texting START here": (
        ". {name} anrufen: nur jenes Telefon ändert das, mit START hierher"
    ),
    ": {name}'s phone gets alarms by text again, a test text arrived": (
        ": das Telefon von {name} bekommt wieder Alarme, ein Probetext kam an"
    ),
    ": a text to {name} was NOT taken by the carrier": ": ein Text an {name} wurde vom Netzdienst NICHT genommen",
    " (its code {code})": " (sein Code {code})",
    ". Don't count on {name} having read it": ". Nicht darauf zählen, dass {name} ihn las",
    ": the carrier does not take the text to {name} of alarm ": (
        ": der Netzdienst nimmt den Text an {name} nicht: Alarm "
    ),
    ". It is tried again. Look after it yourself": ". Es wird weiter versucht. Sehen Sie selbst danach",
    "AT BOAT": "AM BOOT",
    "ASHORE": "AN LAND",
    "AWAY": "ABWESEND",
    "ABOARD": "AN BORD",
    "LAID UP": "AUFGELEGT",
    "IN THE YARD": "IN DER WERFT",
    ": {count} alarms": ": {count} Alarme",
    ": {count} warnings": ": {count} Warnungen",
    ": {count} cautions": ": {count} Hinweise",
    ": {alarm} gone since {time}": ": {alarm} weg seit {time}",
    ": now OK since {time}": ": wieder in Ordnung seit {time}",
    " (began {time})": " (begann {time})",
    ". Nobody had alarm {number}: reply HAVE IT {same} to close it": (
        ". Alarm {number} hatte niemand: ÜBERNEHME {same} beendet ihn"
    ),
    ". Alarm {number} is closed": ". Alarm {number} ist beendet",
    " gone since {time}": " weg seit {time}",
    ". Alarm {number} stands": ". Alarm {number} besteht",
    " until somebody has looked": ", bis jemand nachgesehen hat",
    ": then reply CHECKED {number}": ": dann GEPRÜFT {number}",
    ". Nobody has it: reply HAVE IT {number}, after looking CHECKED {same}": (
        ". Bei niemandem: ÜBERNEHME {number}, nach dem Nachsehen GEPRÜFT {same}"
    ),
    ". Reply HAVE IT {number}, after looking CHECKED {same}": (
        ". ÜBERNEHME {number}, nach dem Nachsehen GEPRÜFT {same}"
    ),
    "checked by {name} at {time}": "geprüft von {name} um {time}",
    # who has it
    ". Reply AT BOAT {number}, then ASHORE {same}": ". Dort AM BOOT {number}, dann AN LAND {same}",
    ". Reply AT BOAT {number}": ". Dort AM BOOT {number}",
    ": {name} has alarm {number}, you do not": ": Alarm {number} ist bei {name}, nicht bei Ihnen",
    ": {name} has alarm {number}": ": Alarm {number} ist bei {name}",
    ". No more reminders of it to you for now": ". Vorerst keine Erinnerung mehr an Sie",
    ". No more reminders for now": ". Vorerst keine Erinnerung",
    "{count} alarms are yours: ": "{count} Alarme bei Ihnen: ",
    ". Nothing was changed": ". Nichts geändert",
    ". To have it instead reply TAKE OVER {number}": ". Wollen Sie ihn, antworten Sie ÜBERNEHME JETZT {number}",
    ": which": ": welcher",
    "Which": "Welcher",
    " alarm? ": " Alarm? ",
    ". Nothing was changed. Reply HAVE IT or CHECKED with its number, as {number}": (
        ". Nichts geändert. ÜBERNEHME oder GEPRÜFT mit Nummer, etwa {number}"
    ),
    "nobody has alarm {number} yet. Reply HAVE IT {same}, after looking CHECKED {third}": (
        "Alarm {number} ist bei niemandem. ÜBERNEHME {same}, nach dem Nachsehen GEPRÜFT {third}"
    ),
    "nobody has alarm {number} yet, you neither. Reply HAVE IT {same} first": (
        "Alarm {number} ist bei niemandem, auch nicht bei Ihnen. Erst ÜBERNEHME {same}"
    ),
    ": you have no alarm": ": Sie haben keinen Alarm",
    ": alarm {number} is not open": ": Alarm {number} ist nicht offen",
    ". You count as aboard: no text starts an engine until you reply VISIT OVER": (
        ". Sie gelten als an Bord: kein Text startet einen Motor, bis Sie BESUCH BEENDET antworten"
    ),
    "you have no alarm, so nothing was changed. Reply ALARMS for the open ones": (
        "Sie haben keinen Alarm, nichts geändert. ALARME zeigt die offenen"
    ),
    "no alarm is open, so nothing was changed. Reply STATUS for the latest values": (
        "kein Alarm ist offen, nichts geändert. STATUS zeigt die Werte"
    ),
    "alarm {number} needs no CHECKED. Once taken and gone it closes by itself": (
        "Alarm {number} braucht kein GEPRÜFT. Übernommen und vorbei endet er von selbst"
    ),
    ": noted, you are at the boat at {time}": ": vermerkt, Sie sind am Boot um {time}",
    ". Later reply ASHORE {number}": ". Später AN LAND {number}",
    ": {name} is at the boat since {time}, has alarm ": ": {name} ist am Boot seit {time}, hat Alarm ",
    ": noted, you are ashore at {time}": ": vermerkt, Sie sind an Land um {time}",
    ". Alarm {number} is still yours": ". Alarm {number} bleibt bei Ihnen",
    ". {number} is still yours": ". {number} bleibt bei Ihnen",
    ". Nobody aboard now? Reply VISIT OVER": ". Niemand mehr an Bord? BESUCH BEENDET",
    ". Not yours any more? Reply HAND OVER {number}": ". Nicht mehr Ihrer? GEBE AB {number}",
    " has not gone": " besteht noch",
    ". Still yours? Reply HAVE IT {number}": ". Noch bei Ihnen? ÜBERNEHME {number}",
    ". Else the others are told from {time}": ". Sonst erfahren es ab {time} die anderen",
    ": {name} has alarm {number} now, you no longer": ": Alarm {number} ist jetzt bei {name}, nicht mehr bei Ihnen",
    ": {name} asks to hand over alarm {number}": ": {name} möchte Alarm {number} abgeben",
    ". {name} has it till somebody takes it": ". Bis jemand übernimmt, bleibt er bei {name}",
    ". Can you? Reply TAKE OVER {number}": ". Können Sie? Antworten Sie ÜBERNEHME JETZT {number}",
    ": alarm {number} is offered to {count} others": ": Alarm {number} ist {count} anderen angeboten",
    ". It stays yours until one of them takes it": ". Bis einer übernimmt, bleibt er bei Ihnen",
    ". If nobody does by {time} all are told anew": ". Tut es bis {time} niemand, werden alle neu gerufen",
    ": your note of alarm {number} is in the record. It was not read as an order": (
        ": Ihre Notiz zu Alarm {number} ist im Protokoll. Sie galt nicht als Befehl"
    ),
    ". Nobody was told of it": ". Niemand erfuhr davon",
    # several boats
    "{count} boats: ": "{count} Boote: ",
    "{time}, {count} boats: ": "{time}, {count} Boote: ",
    " NO DATA since {time}": " KEINE DATEN seit {time}",
    " never heard": " nie gemeldet",
    " last heard {time}": " zuletzt gehört {time}",
    " no alarm open, heard {time}": " kein Alarm offen, gehört {time}",
    "no alarm open on {count}": "kein Alarm offen auf {count}",
    "no alarm open on the other {count}": "kein Alarm offen auf den anderen {count}",
    ". For the values text a boat's name and STATUS": ". Für Werte: Bootsname und STATUS",
    ". That is what sensors report, no more": ". So melden es die Sensoren, nicht mehr",
    "Which boat? Nothing was done. Begin with its name": "Welches Boot? Nichts getan. Beginnen Sie mit dem Namen",
    ", as in {phrase}": ", etwa {phrase}",
    "Round {time}, {count} boats: ": "Runde {time}, {count} Boote: ",
    "Weekly word {time}: ": "Wochenwort {time}: ",
    # put aside, and how the boat is kept
    "out of service until {time}": "außer Betrieb bis {time}",
    " (out of service until {time})": " (außer Betrieb bis {time})",
    " ({state})": " ({state})",
    "out of service": "außer Betrieb",
    "shelved": "zurückgestellt",
    "shelved until {time}": "zurückgestellt bis {time}",
    " by {name}": " von {name}",
    ". NOBODY is told of it till then": ". Bis dahin erfährt es NIEMAND",
    ". To end that reply UNSHELVE {number}": ". Zum Beenden ZURÜCKHOLEN {number}",
    ". To end that reply IN SERVICE {number}": ". Zum Beenden IN BETRIEB {number}",
    ". Done? Reply IN SERVICE {number}": ". Fertig? IN BETRIEB {number}",
    "no longer shelved, its time is over": "nicht mehr zurückgestellt, Zeit abgelaufen",
    ". It stands since {time} and is told now": ". Er besteht seit {time} und wird nun gemeldet",
    ". It is watched and told as before": ". Er wird überwacht und gemeldet wie zuvor",
    ": kept as ABOARD now": ": gilt jetzt als AN BORD",
    ": kept as AWAY now": ": gilt jetzt als ABWESEND",
    ", as you say": ", wie Sie sagen",
    ". {count} of its alarms not told, emergencies always": ". {count} Alarme nicht gemeldet, Notfälle immer",
    ". Ends {time}": ". Endet {time}",
    ". To end that reply AWAY": ". Zum Beenden ABWESEND",
    ": still in the yard? Then reply IN THE YARD, else AWAY": ": noch in der Werft? Dann IN DER WERFT, sonst ABWESEND",
    ". Without an answer it counts as away from {time}": ". Ohne Antwort gilt es ab {time} als abwesend",
    ", and every alarm is told": ", und jeder Alarm wird gemeldet",
    # switching
    ". {who} permits {from_to}, it is {time}": ". {who} erlaubt {from_to}, es ist {time}",
    ". Ask again from {time}": ". Ab {time} erneut fragen",
    ". Earlier words for {thing} are void": ". Alte Wörter für {thing} gelten nicht",
    ": {thing} running": ": {thing} läuft",
    ", {value} after {time}": ", {value} nach {time}",
    ". Stops by itself {time}": ". Stoppt von selbst {time}",
    ": {thing}: no proof that it started": ": {thing}: kein Beweis, dass er läuft",
    ": {thing}: no proof that it stopped": ": {thing}: kein Beweis, dass er steht",
    ", waited {time}": ", {time} gewartet",
    ", it shows {value}": ", Anzeige {value}",
    ". Not sent again. Look before you rely on it": ". Nicht erneut gesandt. Erst nachsehen",
    ": the order could not leave. Nothing was switched, it is not sent again": (
        ": der Befehl ging nicht hinaus. Nichts geschaltet, er wird nicht wiederholt"
    ),
    ". Ask anew once the link is back": ". Neu fragen, sobald die Verbindung steht",
    ": request to start {thing} withdrawn": ": Anfrage zurückgezogen, {thing} zu starten",
    ": request to stop {thing} withdrawn": ": Anfrage zurückgezogen, {thing} zu stoppen",
    ". Its words are void. Nothing was switched": ". Die Wörter gelten nicht mehr. Nichts geschaltet",
    "those are not the words for {thing}, {count} tries left. Nothing was switched": (
        "das sind nicht die Wörter für {thing}, noch {count} Versuche. Nichts geschaltet"
    ),
    ". Copy both words from the last text": ". Beide Wörter aus dem letzten Text abschreiben",
    ": five wrong codes in a row from {name}'s phone": ": fünf falsche Codes vom Telefon von {name}",
    ". Commands from it are locked until {time}": ". Befehle von dort sind gesperrt bis {time}",
    ", alarms still reach it": ", Alarme kommen weiter an",
    ". Ring {name}: who has the phone?": ". {name} anrufen: wer hat das Telefon?",
    ": time is up, {thing} NOT proved stopped": ": Zeit um, {thing} NICHT als gestoppt bewiesen",
    " after {count} tries. It is tried again every minute": " nach {count} Versuchen. Jede Minute ein neuer",
    # the gateway itself, as far as it concerns whoever is no installer
    "Alarm ": "Alarm ",
    " stands": " besteht",
    ". Reply ALARMS": ". Mehr: ALARME",
    ". Reply ALARMS for those that stand": ". ALARME zeigt, was besteht",
    ": test text. Once it has arrived, alarms are texted to this phone again": (
        ": Probetext. Ist er angekommen, gehen Alarme wieder an dieses Telefon"
    ),
    ". No reply needed": ". Keine Antwort nötig",
    ": {name}'s phone has opted out, no alarm reaches {same} by text": (
        ": das Telefon von {name} ist abgemeldet, kein Alarm erreicht {same} per Text"
    ),
    ": ring {name}": ": {name} anrufen",
    # switching, what else may follow
    ". The code is used up": ". Der Code ist verbraucht",
    ". Ask again if it is still wanted": ". Neu fragen, wenn noch gewünscht",
    ": nothing is waiting for a GO or DROP from you": ": nichts wartet auf GO oder DROP von Ihnen",
    "those are not the words, {count} tries left. Nothing was switched": (
        "das sind nicht die Wörter, noch {count} Versuche. Nichts geschaltet"
    ),
    "those are not the words, 1 try left. Nothing was switched": (
        "das sind nicht die Wörter, noch 1 Versuch. Nichts geschaltet"
    ),
    "those are not the words for {thing}, 1 try left. Nothing was switched": (
        "das sind nicht die Wörter für {thing}, noch 1 Versuch. Nichts geschaltet"
    ),
    "too soon after wrong words: wait {time} more. Nothing was switched": (
        "zu bald nach falschen Wörtern: noch {time} warten. Nichts geschaltet"
    ),
    ". Then send it again, nothing was looked at": ". Dann noch einmal senden, nichts wurde geprüft",
    "line {line} of your paper list is needed too. Nothing was switched": (
        "auch Zeile {line} Ihrer Papierliste ist nötig. Nichts geschaltet"
    ),
    ". Send GO, both words, its number, its words": ". Senden Sie GO, beide Wörter, ihre Nummer, ihre Wörter",
    "that line of your paper list is used, line {line} is next. Nothing was switched": (
        "diese Zeile Ihrer Papierliste ist verbraucht, jetzt gilt Zeile {line}. Nichts geschaltet"
    ),
    ". Send GO again with that": ". Senden Sie GO noch einmal mit ihr",
    ". Line {line} of your paper list is asked for": ". Gefragt ist Zeile {line} Ihrer Papierliste",
    ": {count} lines left on your paper list": ": noch {count} Zeilen auf Ihrer Papierliste",
    ": your paper list is used up": ": Ihre Papierliste ist verbraucht",
    ": {name} has {count} paper lines left": ": {name} hat noch {count} Zeilen auf der Papierliste",
    ": {name} has no paper lines left": ": die Papierliste von {name} ist verbraucht",
    ". A new one is printed ashore: heavingline paper-list": ". Eine neue druckt: heavingline paper-list",
    "you have no paper list": "Sie haben keine Papierliste",
    "your paper list is void": "Ihre Papierliste gilt nicht mehr",
    "your paper list is used up": "Ihre Papierliste ist verbraucht",
    "the installer prints a new one": "Der Elektriker druckt eine neue",
    ". Ask the installer for a new one": ". Der Elektriker druckt eine neue",
    "wrong too often: the words for {thing} are void. Nothing was switched": (
        "zu oft falsch: die Wörter für {thing} gelten nicht mehr. Nichts geschaltet"
    ),
    "wrong too often: the words are void. Nothing was switched": (
        "zu oft falsch: die Wörter gelten nicht mehr. Nichts geschaltet"
    ),
    "too late: the words for {thing} have run out. Nothing was switched": (
        "zu spät: die Wörter für {thing} sind abgelaufen. Nichts geschaltet"
    ),
    "too late: the words have run out. Nothing was switched": "zu spät: die Wörter sind abgelaufen. Nichts geschaltet",
    "those words for {thing} were used already, they work once. Nothing was switched": (
        "die Wörter für {thing} waren schon benutzt, sie gelten einmal. Nichts geschaltet"
    ),
    "those words were used already, they work once. Nothing was switched": (
        "die Wörter waren schon benutzt, sie gelten einmal. Nichts geschaltet"
    ),
    "those words for {thing} are void: you asked for something else after them. Nothing was switched": (
        "die Wörter für {thing} gelten nicht mehr: Sie fragten danach nach anderem. Nichts geschaltet"
    ),
    "those words are void: you asked for something else after them. Nothing was switched": (
        "die Wörter gelten nicht mehr: Sie fragten danach nach anderem. Nichts geschaltet"
    ),
    "wrong too often: commands from your phone are locked until {time}. Nothing was switched": (
        "zu oft falsch: Befehle von Ihrem Telefon sind gesperrt bis {time}. Nichts geschaltet"
    ),
    "wrong too often: commands from your phone are locked. Nothing was switched": (
        "zu oft falsch: Befehle von Ihrem Telefon sind gesperrt. Nichts geschaltet"
    ),
    ". Alarms still reach you": ". Alarme erreichen Sie weiter",
    "your text came {time} late. Nothing was switched": "Ihr Text kam {time} zu spät. Nichts geschaltet",
    "your text came too late. Nothing was switched": "Ihr Text kam zu spät. Nichts geschaltet",
    ". Send it again": ". Senden Sie ihn erneut",
    ". Send it again by {time}": ". Senden Sie ihn erneut bis {time}",
    " at the end of its time": " am Ende seiner Zeit",
    ". The gateway restarted meanwhile": ". Der Rechner startete inzwischen neu",
    ". Order HELD by gas or fire alarm {number}: switching can spark": (
        ". Befehl GEHALTEN, Gas- oder Feueralarm {number}: Schalten kann zünden"
    ),
    ". Keep away from the boat": ". Vom Boot fernbleiben",
    ". The boat can't be reached: the order waits": ". Boot nicht erreichbar: der Befehl wartet",
    ". The boat can't be reached: the order waits and goes out once it is heard": (
        ". Das Boot ist nicht zu erreichen: der Befehl geht hinaus, sobald es sich meldet"
    ),
    ". Somebody must see to it": ". Es muss jemand hin",
    " after {count} tries. No more tries": " nach {count} Versuchen. Keine weiteren",
    # alarms, what else may be said
    ". If not, ring somebody: nobody else is told": ". Sonst jemanden anrufen: kein anderer erfährt es",
    ". Nobody else is told": ". Kein anderer erfährt es",
    ". If not, do nothing: you are told again at {time}": ". Sonst nichts tun: Sie erfahren es wieder um {time}",
    ". If not: you are told again at {time}": ". Sonst: Sie wieder um {time}",
    "there is no alarm {number}. Nothing was changed. Reply ALARMS for the open ones": (
        "es gibt keinen Alarm {number}. Nichts geändert. ALARME zeigt die offenen"
    ),
    "alarm {number} is closed already. Nothing was changed. Reply ALARMS for the open ones": (
        "Alarm {number} ist schon beendet. Nichts geändert. ALARME zeigt die offenen"
    ),
    " and {count} more: ALARMS": " und {count} weitere: ALARME",
    " and {count} more alarms": " und {count} weitere Alarme",
    ". Gone since {time}": ". Weg seit {time}",
    ". Once somebody has looked reply CHECKED {number}": ". Hat jemand nachgesehen: GEPRÜFT {number}",
    ". It is closed": ". Er ist beendet",
    ". All closed": ". Alle beendet",
    ". No more reminders of them for now": ". Vorerst keine Erinnerung daran",
    "{name} has {count} alarms: ": "{count} Alarme bei {name}: ",
    ". Held back by your limit: {what}. Reply ALARMS": ". Von Ihrer Grenze zurückgehalten: {what}. Siehe ALARME",
    ". {what} held back: ALARMS": ". {what} zurückgehalten: ALARME",
    "nobody else is on the list of alarm {number}": "kein anderer steht auf der Liste von Alarm {number}",
    ": your note is in the record. It was not read as an order": (
        ": Ihre Notiz ist im Protokoll. Sie galt nicht als Befehl"
    ),
    ", state found on connecting, age unknown": ", beim Verbinden so gefunden, Alter unbekannt",
    ", found so, age unknown": ", so gefunden, Alter unbekannt",
    ", received {time}, age unknown": ", empfangen {time}, Alter unbekannt",
    ", came {count} times": ", kam {count} mal",
    ": no alarm is open. That is what its sensors report, no more. Reply STATUS for the latest values": (
        ": kein Alarm ist offen. So melden es die Sensoren, nicht mehr. STATUS zeigt die Werte"
    ),
    "No alarm is open on your {count} boats. That is what their sensors report, no more. "
    "For the latest values text a boat's name and STATUS": (
        "Kein Alarm ist offen auf Ihren {count} Booten. So melden es die Sensoren, nicht mehr. "
        "Für Werte: Bootsname und STATUS"
    ),
    "NO DATA since {time} ({age}). ": "KEINE DATEN seit {time} ({age}). ",
    "Last known: {value}": "Zuletzt: {value}",
    "No alarm was open. ": "Kein Alarm war offen. ",
    "No values to tell": "Keine Werte",
    "You can text ": "Sie können schreiben ",
    ". Every alarm is told": ". Jeder Alarm wird gemeldet",
    ". Somebody still counts as aboard. Nobody is? Reply VISIT OVER": (
        ". Es gilt noch jemand als an Bord. Niemand? BESUCH BEENDET"
    ),
    "back in service": "wieder in Betrieb",
    ". It does not stand": ". Er besteht nicht",
    # not understood, the other reasons
    "your text came empty. Nothing was done": "Ihr Text kam leer an. Nichts getan",
    "your text is too long for an order. Nothing was done": "Ihr Text ist zu lang für einen Befehl. Nichts getan",
    "that takes no alarm. Nothing was done": "das übernimmt keinen Alarm. Nichts getan",
    ". To take one reply HAVE IT and its number": ". Zum Übernehmen ÜBERNEHME und Nummer",
    "a reaction or a quoted text is no order. Nothing was done": (
        "eine Reaktion oder ein zitierter Text ist kein Befehl. Nichts getan"
    ),
    ". Type the words yourself": ". Die Wörter selbst tippen",
    "that word alone can make the carrier block all alarms to you. Nothing was done": (
        "dieses Wort allein kann alle Alarme an Sie sperren. Nichts getan"
    ),
    ". For a machine put its name first. Reply PHRASES": ". Erst der Name der Maschine. BEFEHLE zeigt, was geht",
    "that word alone is for the carrier, not for the boat. Nothing was done": (
        "dieses Wort allein gilt dem Netzdienst, nicht dem Boot. Nichts getan"
    ),
    "this boat has no {thing} that can be switched or asked after. Nothing was done": (
        "dieses Boot hat nichts zu schalten oder zu fragen namens {thing}. Nichts getan"
    ),
    ". Reply STATUS for what it has": ". STATUS zeigt, was es hat",
    # what it means, reckoned
    "house bank: hours left not known": "Bordbatterie: Restzeit unbekannt",
    "{bank}, hours left not known": "{bank}, Restzeit unbekannt",
    "{bank}, nothing is drawn": "{bank}, nichts wird entnommen",
    "{value}, no all-clear": "{value}, keine Entwarnung",
    "{what}: no all-clear": "{what}: keine Entwarnung",
    ". What the boat said meanwhile may be missing": ". Was das Boot solange meldete, fehlt vielleicht",
    ". Alarms may not reach you": ". Alarme erreichen Sie vielleicht nicht",
    "No alarm stands now": "Kein Alarm besteht",
    "No alarm stands now; what came and went meanwhile was not seen": (
        "Kein Alarm besteht; was solange kam und ging, wurde nicht gesehen"
    ),
    # who is on duty
    "{nr} boats": "{nr} Boote",
    "On duty: ": "Dienst: ",
    "{name} for ": "{name} für ",
    "you for ": "Sie für ",
    " until {end}": " bis {end}",
    "{nr} several": "{nr} verschieden",
    ": on duty {who}": ": Dienst hat {who}",
    ": on duty {who} until {end}": ": Dienst hat {who} bis {end}",
    ": on duty you": ": Dienst haben Sie",
    ": on duty you until {end}": ": Dienst haben Sie bis {end}",
    ": on duty nobody: all of the roster are told": ": Dienst hat niemand: alle der Liste erfahren es",
    ": on duty nobody: all of the roster are told until {end}": (
        ": Dienst hat niemand bis {end}: alle der Liste erfahren es"
    ),
    ", then {who}": ", danach {who}",
    ": you are on duty": ": Sie haben Dienst",
    ": you are on duty until {end}": ": Sie haben Dienst bis {end}",
    ": you are on duty, no longer {name}": ": Sie haben Dienst, nicht mehr {name}",
    ": you are on duty until {end}, no longer {name}": ": Sie haben Dienst bis {end}, nicht mehr {name}",
    ". What is told to whoever is on duty comes to you": ". Was dem Dienst gemeldet wird, kommt zu Ihnen",
    ": {who} is on duty": ": {who} hat Dienst",
    ": {who} is on duty until {end}": ": {who} hat Dienst bis {end}",
    ": {who} is on duty, you no longer": ": {who} hat Dienst, Sie nicht mehr",
    ": {who} is on duty until {end}, you no longer": ": {who} hat Dienst bis {end}, Sie nicht mehr",
    ": {who} is on duty, as you asked": ": {who} hat Dienst, wie erbeten",
    ": {who} is on duty until {end}, as you asked": ": {who} hat Dienst bis {end}, wie erbeten",
    ": {who} is on duty, you no longer, as you asked": ": {who} hat Dienst, Sie nicht mehr, wie erbeten",
    ": {who} is on duty until {end}, you no longer, as you asked": (
        ": {who} hat Dienst bis {end}, Sie nicht mehr, wie erbeten"
    ),
    ": {name} asks you to be on duty": ": {name} bittet Sie um den Dienst",
    ": {name} asks you to be on duty until {end}": ": {name} bittet Sie um den Dienst bis {end}",
    ", by {time}": ", bis {time}",
    ". Till you answer it is {name}": ". Bis zur Antwort: {name}",
    ": {name} is asked to be on duty": ": {name} ist um den Dienst gebeten",
    ": {name} is asked to be on duty until {end}": ": {name} ist um den Dienst bis {end} gebeten",
    ". Nothing has changed yet: it is {name}": ". Noch nichts geändert: Dienst hat {name}",
    ". Nothing has changed yet: it is you": ". Noch nichts geändert: Dienst haben Sie",
    ". No answer by {time} leaves it so": ". Ohne Antwort bis {time} bleibt es so",
    ": no list here tells whoever is on duty": ": hier meldet keine Liste an den Dienst",
    ". The installer can write a roster": ". Der Installateur kann einen Dienstplan anlegen",
    "Your boats": "Ihre Boote",
    ". Alarms are told as each list says": ". Alarme gehen, wie jede Liste es sagt",
    ": nobody here has that name. Who could: {who}": ": so heißt hier niemand. Möglich: {who}",
    ". Reply DUTY and the name": ". Antworten Sie DIENST und den Namen",
    ": who is on duty is for {who} to say": ": den Dienst bestimmt {who}",
    ": {who} cannot be on duty here": ": {who} kann hier keinen Dienst haben",
    ": you cannot be on duty here": ": Sie können hier keinen Dienst haben",
    ". Whoever is must have the boat and a phone that takes texts": (
        ". Dazu gehören das Boot und ein Telefon, das Texte bekommt"
    ),
    ": {who} is on duty already": ": {who} hat schon Dienst",
    ": you are on duty already": ": Sie haben schon Dienst",
    ": you are not on duty, it is {who}": ": Sie haben keinen Dienst, es ist {who}",
    ": you stay on duty till somebody follows. Who could: {who}": (
        ": Sie behalten den Dienst, bis jemand folgt. Möglich: {who}"
    ),
    ". Ask the installer": ". Fragen Sie den Installateur",
    ": {who} has been asked and has not answered, you stay on duty till then": (
        ": {who} ist gefragt und hat nicht geantwortet, so lange behalten Sie den Dienst"
    ),
    ": {who} will not be on duty": ": {who} übernimmt den Dienst nicht",
    ": noted, you will not be on duty": ": vermerkt, Sie übernehmen den Dienst nicht",
    ": {who} has not said whether to be on duty": ": {who} hat zum Dienst nichts gesagt",
    # no reminders
    ": alarm {number}, {alarm}: ": ": Alarm {number}, {alarm}: ",
    "no reminders to you until {time}": "keine Erinnerung an Sie bis {time}",
    ". {name} still gets them": ". {name} wird weiter erinnert",
    ". {names} still get them": ". {names} werden weiter erinnert",
    ". {nr} others get them": ". {nr} andere werden erinnert",
    ". You hear if it gets worse or is over": ". Wird es schlimmer oder endet es, hören Sie davon",
    ". To take it reply HAVE IT {number}": ". Zum Übernehmen: ÜBERNEHME {number}",
    ": alarm {number} is an emergency, reminders go on till somebody has it. Nothing was changed": (
        ": Alarm {number} ist ein Notfall, erinnert wird, bis ihn jemand hat. Nichts geändert"
    ),
    ": nobody else is reminded of alarm {number}, so reminders to you go on. Nothing was changed": (
        ": an Alarm {number} wird sonst niemand erinnert, darum weiter Sie. Nichts geändert"
    ),
    ": alarm {number} can be quiet for {time} at most. Nothing was changed": (
        ": Alarm {number} kann höchstens {time} ruhen. Nichts geändert"
    ),
    ": you get no reminders of alarm {number} as it is. Nothing was changed": (
        ": zu Alarm {number} bekommen Sie ohnehin keine Erinnerung. Nichts geändert"
    ),
    # put aside, what else may be said
    " by you": " von Ihnen",
    "no longer shelved, by {name}": "nicht mehr zurückgestellt, von {name}",
    "no longer shelved, by you": "nicht mehr zurückgestellt, von Ihnen",
    "back in service, by {name}": "wieder in Betrieb, von {name}",
    "back in service, by you": "wieder in Betrieb, von Ihnen",
    "back in service, its time is over": "wieder in Betrieb, Zeit abgelaufen",
    ": only {who} can put alarm {number} aside or back. Nothing was changed": (
        ": nur {who} kann Alarm {number} zurückstellen oder zurückholen. Nichts geändert"
    ),
    ": alarm {number} can be put aside for {time} at most. Nothing was changed": (
        ": Alarm {number} lässt sich höchstens {time} zurückstellen. Nichts geändert"
    ),
    ": alarm {number} is {state} already. Nothing was changed": ": Alarm {number} ist schon {state}. Nichts geändert",
    ": alarm {number} is not shelved. Nothing was changed": (
        ": Alarm {number} ist nicht zurückgestellt. Nichts geändert"
    ),
    ": alarm {number} is not out of service. Nothing was changed": (
        ": Alarm {number} ist nicht außer Betrieb. Nichts geändert"
    ),
    ": {nr} alarms of yours have not gone: ": ": {nr} Alarme bei Ihnen bestehen noch: ",
    ". Still yours? Reply HAVE IT {number}, one text for each": ". Noch bei Ihnen? ÜBERNEHME {number}, je ein Text",
    ", because nobody said it is still {kept}": ", denn niemand sagte, es sei noch {kept}",
    ", says {name}": ", sagt {name}",
    ". Asked again {time}": ". Neu gefragt {time}",
    ": still aboard? Then reply ABOARD, else AWAY": ": noch an Bord? Dann AN BORD, sonst ABWESEND",
    ": kept as LAID UP now": ": gilt jetzt als AUFGELEGT",
    ": kept as IN THE YARD now": ": gilt jetzt als IN DER WERFT",
    ": the point {alarm} ": ": Alarmpunkt {alarm} ",
    ": the point {alarm} (alarm {nr}) ": ": Alarmpunkt {alarm} (Alarm {nr}) ",
    "chatters: 3 alarms within a minute": "flattert: 3 Alarme in einer Minute",
    "comes and goes within a minute, 3 times today": "kommt und geht in einer Minute, heute 3 mal",
    "has stood for over 24 h": "besteht über 24 h",
    ". Mend it": ". Bitte beheben",
    ". To mend: {cure}": ". Abhilfe: {cure}",
    "a wider deadband in `clears`": "mehr Abstand in 'clears'",
    "longer `for`, look for a loose contact": "längeres 'for', Wackelkontakt suchen",
    "a longer `for` in `when`": "längeres 'for' in 'when'",
    "the boat, or its limit": "das Boot oder seine Grenze",
    "the boat, or its limit, or OUT OF SERVICE {number} FOR 3 DAYS": (
        "das Boot oder seine Grenze, sonst AUSSER BETRIEB {number} FÜR 3 TAGE"
    ),
    ". Told once": ". Nur einmal gemeldet",
    # whose phone may switch
    ": {name}'s phone is reported lost. It commands nothing any more": (
        ": Telefon von {name} ist verloren gemeldet. Es schaltet nichts mehr"
    ),
    ": your phone is reported lost. It commands nothing any more": (
        ": Ihr Telefon ist verloren gemeldet. Es schaltet nichts mehr"
    ),
    ": {name} reported {who}'s phone lost. It commands nothing any more": (
        ": {name} meldete das Telefon von {who} verloren. Es schaltet nichts mehr"
    ),
    ": {name} reported your phone lost. It commands nothing any more": (
        ": {name} meldete Ihr Telefon verloren. Es schaltet nichts mehr"
    ),
    ": {name} reported the own phone lost. It commands nothing any more": (
        ": {name} meldete das eigene Telefon verloren. Es schaltet nichts mehr"
    ),
    ". Alarms still go to it": ". Alarme gehen weiter dorthin",
    ". Not lost? Ring {name}": ". Nicht verloren? {name} anrufen",
    ". Not lost? Ring the installer": ". Nicht verloren? Den Installateur anrufen",
    ". {name} can give its commands back": ". {name} kann es wieder freigeben",
    ". The installer can give its commands back": ". Der Installateur kann es wieder freigeben",
    ": nobody of your boats is called that": ": so heißt niemand Ihrer Boote",
    ". Write PHONE LOST and the first name": ". Schreiben Sie TELEFON VERLOREN und den Vornamen",
    ": your own phone is reported lost, it reports no other": (
        ": Ihr Telefon ist selbst verloren gemeldet, es meldet kein anderes"
    ),
    ". Ring {name}": ". {name} anrufen",
    ". Ring the installer": ". Den Installateur anrufen",
    ": {name}'s phone is reported lost already": ": Telefon von {name} ist schon verloren gemeldet",
    ". It commands nothing till {name} gives that back": ". Es schaltet nichts, bis {name} es freigibt",
    ": {name}'s phone commands nothing anyway": ": Telefon von {name} schaltet ohnehin nichts",
    ": {name} is the last who may command here, so that stays": (
        ": hier darf sonst niemand mehr schalten als {name}, das bleibt"
    ),
    ". Ring {name}, who can change it": ". {name} anrufen, das lässt sich ändern",
    ". Ring the installer, who can change it": ". Den Installateur anrufen, das lässt sich ändern",
    "your phone is reported lost, it commands nothing. Nothing was switched": (
        "Ihr Telefon ist verloren gemeldet, es schaltet nichts. Nichts geschaltet"
    ),
    ". The installer gives that back": ". Der Installateur gibt das frei",
    "those words prove your number, they confirm nothing. Nothing was switched": (
        "die Wörter bestätigen Ihre Nummer, sonst nichts. Nichts geschaltet"
    ),
    ". Reply PROVE and the two words": ". Antworten Sie PROVE und beide Wörter",
    # a second person
    ": {name} asks": ": {name} fragt an",
    ": {name} asks, and your GO is needed too": ": {name} fragt an, auch Ihr GO ist nötig",
    ": your words to start {thing} are right": ": Ihre Wörter stimmen, {thing} zu starten",
    ": your words to stop {thing} are right": ": Ihre Wörter stimmen, {thing} zu stoppen",
    ": your words to switch {thing} on are right": ": Ihre Wörter stimmen, {thing} einzuschalten",
    ": your words to switch {thing} off are right": ": Ihre Wörter stimmen, {thing} auszuschalten",
    ": your words to open {thing} are right": ": Ihre Wörter stimmen, {thing} zu öffnen",
    ": your words to close {thing} are right": ": Ihre Wörter stimmen, {thing} zu schließen",
    ". {name} must send GO too, by {time}": ". Auch {name} muss GO senden, bis {time}",
    ". Nothing is switched yet": ". Noch nichts geschaltet",
    ": {name} sent DROP": ": {name} sandte DROP",
    ": {name} sent wrong words": ": {name} sandte falsche Wörter",
    ": {name} sent no GO in time": ": {name} sandte nicht rechtzeitig GO",
    # switching, the other actions
    ": open {thing}": ": {thing} öffnen",
    ": close {thing}": ": {thing} schließen",
    ": {thing} NOT opened": ": {thing} NICHT geöffnet",
    ": {thing} NOT closed": ": {thing} NICHT geschlossen",
    ": {thing} NOT switched to {state}": ": {thing} NICHT auf {state} geschaltet",
    ": {thing} stopped": ": {thing} steht",
    ": {thing} on": ": {thing} an",
    ": {thing} off": ": {thing} aus",
    ": {thing} open": ": {thing} offen",
    ": {thing} closed": ": {thing} zu",
    ", seen after {time}": ", gesehen nach {time}",
    ". Off by itself {time}": ". Aus von selbst {time}",
    ". On again by itself {time}": ". Von selbst wieder an {time}",
    ". Starts by itself {time}": ". Startet von selbst {time}",
    ". Closes by itself {time}": ". Schließt von selbst {time}",
    ". Opens by itself {time}": ". Öffnet von selbst {time}",
    ": {thing}: no proof that it went on": ": {thing}: kein Beweis, dass er an ist",
    ": {thing}: no proof that it went off": ": {thing}: kein Beweis, dass er aus ist",
    ": {thing}: no proof that it opened": ": {thing}: kein Beweis, dass er offen ist",
    ": {thing}: no proof that it closed": ": {thing}: kein Beweis, dass er zu ist",
    ": time is up, {thing} NOT proved running": ": Zeit um, {thing} NICHT als laufend bewiesen",
    ": time is up, {thing} NOT proved on": ": Zeit um, {thing} NICHT als an bewiesen",
    ": time is up, {thing} NOT proved off": ": Zeit um, {thing} NICHT als aus bewiesen",
    ": time is up, {thing} NOT proved open": ": Zeit um, {thing} NICHT als offen bewiesen",
    ": time is up, {thing} NOT proved closed": ": Zeit um, {thing} NICHT als zu bewiesen",
    " after 1 try. No more tries": " nach 1 Versuch. Keine weiteren",
    " after 1 try. It is tried again every minute": " nach 1 Versuch. Jede Minute ein neuer",
    ": request to switch {thing} on withdrawn": ": Anfrage zurückgezogen, {thing} einzuschalten",
    ": request to switch {thing} off withdrawn": ": Anfrage zurückgezogen, {thing} auszuschalten",
    ": request to open {thing} withdrawn": ": Anfrage zurückgezogen, {thing} zu öffnen",
    ": request to close {thing} withdrawn": ": Anfrage zurückgezogen, {thing} zu schließen",
    ". Ask anew once the link is back: {PHRASE}": ". Neu fragen, sobald die Verbindung steht: {PHRASE}",
    ". Also: {why}": ". Außerdem: {why}",
    ". And another reason": ". Und ein weiterer Grund",
    ". And {nr} other reasons": ". Und {nr} weitere Gründe",
    "{thing} does not know that word, only OPEN and CLOSE. Nothing was done": (
        "{thing} kennt nur ÖFFNEN und SCHLIESSEN. Nichts getan"
    ),
    "{thing} does not know that word, only CLOSE. Nothing was done": "{thing} kennt nur SCHLIESSEN. Nichts getan",
    "{thing} is opened at the boat only, never by text. Nothing was done": (
        "{thing} wird nur am Boot geöffnet, nie per Text. Nichts getan"
    ),
    "{thing} does not know that word. Nothing was done": "{thing} kennt dieses Wort nicht. Nichts getan",
    # the gateway's own trouble, as the installer hears of it
    ": a text came in your quiet hours from numbers that are on no list": (
        ": in Ihrer Ruhezeit kam ein Text von einer Nummer, die auf keiner Liste steht"
    ),
    ": {nr} texts came in your quiet hours from numbers that are on no list": (
        ": in Ihrer Ruhezeit kamen {nr} Texte von Nummern, die auf keiner Liste stehen"
    ),
    ": a text from {number}, a number that is on no list": ": ein Text von {number}, die Nummer steht auf keiner Liste",
    ": {nr} texts from {number}, a number that is on no list": (
        ": {nr} Texte von {number}, die Nummer steht auf keiner Liste"
    ),
    ". Not answered, nothing was switched": ". Nicht beantwortet, nichts geschaltet",
    ". Yours? The installer can add it": ". Ihre? Der Installateur kann sie eintragen",
    ": this number has opted out, alarms can't reach it. Text START from it, then tell the installer": (
        ": diese Nummer ist abgemeldet, kein Alarm kommt an. Von ihr START schreiben, dann dem Installateur sagen"
    ),
    ': on link "{link}" another client uses this gateway\'s client_id': (
        ': an "{link}" benutzt ein anderes Programm die client_id dieses Gateways'
    ),
    ". Each cuts the other off, alarms may be missed": ". Beide trennen einander, Alarme können fehlen",
    ". Give each its own": ". Jedem seine eigene geben",
    ": {signal} can't be read, {count} times in a row": ": {signal} ist unlesbar, {count} mal nacheinander",
    ', it sent "{sample}"': ', gesandt: "{sample}"',
    ". Its alarms are blind until that is mended": ". Was daran hängt, sieht nichts, bis das behoben ist",
    ": values come without a usable time ({signal})": ": Werte kommen ohne brauchbare Zeit ({signal})",
    ". Alarms still come, but none clears and nothing is switched by these": (
        ". Alarme kommen, doch keiner endet, und nichts wird danach geschaltet"
    ),
    ". Mend the clock that sends them": ". Die Uhr des Senders stellen",
    ": no record could be kept {began} to {ended}": ": kein Protokoll von {began} bis {ended}",
    ". Alarms were told from memory, nothing was switched": ". Alarme gingen trotzdem hinaus, nichts wurde geschaltet",
    ". Make room on its disk": ". Auf der Platte Platz schaffen",
    ": its record was damaged, a new one is begun. Alarms go on": (
        ": Protokoll war beschädigt, ein neues ist begonnen. Alarme gehen weiter"
    ),
    ". What was open is forgotten, timed runs won't end by themselves: look at each": (
        ". Offenes ist vergessen, Läufe auf Zeit enden nicht von selbst: alle ansehen"
    ),
    ". The old one is kept": ". Das alte bleibt erhalten",
    ": account of carrier {carrier}": ": Konto beim Netzdienst {carrier}",
    " holds {amount}": " hat {amount}",
    ", limit {amount}": ", Grenze {amount}",
    ". Empty it sends no alarm. Fill it up": ". Leer sendet es keinen Alarm. Auffüllen",
    ". Told once a day till then": ". Bis dahin täglich gemeldet",
    ": its clock is {time} behind the carrier's": ": seine Uhr geht {time} nach gegen den Netzdienst",
    ": its clock is {time} ahead of the carrier's": ": seine Uhr geht {time} vor gegen den Netzdienst",
    ". Nothing is switched until that is mended, alarms go on": (
        ". Geschaltet wird erst wieder, wenn das behoben ist, Alarme gehen weiter"
    ),
    ". Mend the clock of its computer": ". Die Uhr des Rechners stellen",
    ": five wrong codes in a row from your phone": ": fünf falsche Codes von Ihrem Telefon",
    ": too many wrong codes from {name}'s phone": ": zu viele falsche Codes vom Telefon von {name}",
    ": too many wrong codes from your phone": ": zu viele falsche Codes von Ihrem Telefon",
    ". Commands from it are locked until the installer has proved it anew": (
        ". Befehle von dort sind gesperrt, bis der Installateur es neu bestätigt"
    ),
    ". Held back from you: {numbers}. Reply ALARMS": ". Zurückgehalten: {numbers}. Siehe ALARME",
    ". {nr} held back: ALARMS": ". {nr} zurückgehalten: ALARME",
    # the first text, and what else is told of alarms
    "This number texts you the alarms of ": "Von dieser Nummer kommen die Alarme von ",
    "your boats": "Ihren Booten",
    ", at any hour. Reply HAVE IT to take one": ", zu jeder Stunde. Zum Übernehmen: ÜBERNEHME",
    ", PHRASES for more": ", mehr: BEFEHLE",
    ". STOP ends ALL texts, alarms too": ". STOP beendet ALLE Texte, auch Alarme",
    ". Ask {name}": ". Fragen: {name}",
    "there is no alarm with that number. Nothing was changed. Reply ALARMS for the open ones": (
        "es gibt keinen Alarm mit dieser Nummer. Nichts geändert. ALARME zeigt die offenen"
    ),
    "that alarm is closed already. Nothing was changed. Reply ALARMS for the open ones": (
        "dieser Alarm ist schon beendet. Nichts geändert. ALARME zeigt die offenen"
    ),
    ". To you in place of {name}": ". An Sie in Vertretung von {name}",
    "; {nr} others and you told": "; {nr} andere und Sie wissen es",
    "Link {name}": "Verbindung {name}",
    "Shore supply {name}": "Landstrom {name}",
    "Berth {name}": "Liegeplatz {name}",
    "1 other": "1 weiterer",
    "{PHRASES}. With a boat's name in front": "{PHRASES}. Mit dem Namen eines Boots davor",
    "ALARMS, STATUS": "ALARME, STATUS",
    "{thing} reads {value} ({age} old)": "{thing} zeigt {value} (vor {age})",
    "{thing} reads {value}": "{thing} zeigt {value}",
    ", {value} ({limit})": ", {value} ({limit})",
    ", happened {began}, received {came}": ", geschehen {began}, empfangen {came}",
    " from {began}, gone since {ended}": " von {began}, weg seit {ended}",
    "{alarm}, gone since {time}": "{alarm}, weg seit {time}",
    "{alarm}, age unknown": "{alarm}, Alter unbekannt",
    "{alarm}, received {time}, age unknown": "{alarm}, empfangen {time}, Alter unbekannt",
    "{alarm}, happened {began}, received {came}": "{alarm}, geschehen {began}, empfangen {came}",
    " boat time": " Bootszeit",
    # the starter's own names and words, which an installer may have changed, and where names stand
    ": {alarm}": ": {alarm}",
    ", {alarm}": ", {alarm}",
    ", {alarm},": ", {alarm},",
    "{nr} {alarm}": "{nr} {alarm}",
    "BILGE HIGH WATER": "BILGE STEHT HOCH",
    "FIRE OR SMOKE": "FEUER ODER RAUCH",
    "CARBON MONOXIDE": "KOHLENMONOXID",
    "GAS ABOARD": "GAS AN BORD",
    "bilge pump cannot keep up": "Bilgepumpe schafft es nicht",
    "house bank critical": "Bordbatterie kritisch",
    "start battery critical": "Startbatterie kritisch",
    "bilge pump runs long": "Bilgepumpe läuft lange",
    "shore power lost": "Landstrom weg",
    "house bank low": "Bordbatterie schwach",
    "fuel low": "Kraftstoff knapp",
    "fridge warm": "Kühlschrank warm",
    "hatch open": "Luke offen",
    "boat silent": "Boot stumm",
    "bilge switch silent": "Bilgeschalter stumm",
    "fire detector silent": "Feuermelder stumm",
    "CO detector silent": "CO-Melder stumm",
    "gas detector silent": "Gasmelder stumm",
    ". Engine space detector": ". Melder im Motorraum",
    ". Poisonous and cannot be smelt": ". Giftig und nicht zu riechen",
    ". A spark may explode it": ". Ein Funke kann es zünden",
    ". Water comes in as fast, or the float is stuck": ". Es läuft ebenso viel zu, oder der Schwimmer klemmt",
    ". Pump and alarms lose power next": ". Pumpe und Alarme haben bald keinen Strom",
    ". Engines may not start": ". Motoren starten vielleicht nicht",
    ". More water than usual, or a stuck float": ". Mehr Wasser als sonst, oder der Schwimmer klemmt",
    ". The house bank is not charged": ". Die Bordbatterie wird nicht geladen",
    ". About 40% or less is left": ". Noch etwa 40% oder weniger",
    ". Under 20% fuel no generator start from afar": ". Unter 20% Kraftstoff kein Start von fern",
    ". Food does not keep": ". Essen verdirbt",
    ". Could be phone mast or power": ". Funkmast oder Strom",
    ". High water would not be told": ". Hochwasser würde nicht gemeldet",
    ". A fire would not be told": ". Ein Feuer würde nicht gemeldet",
    ". CO would not be told": ". CO würde nicht gemeldet",
    ". Gas would not be told": ". Gas würde nicht gemeldet",
    ". Shore lead off before you board": ". Vor dem Betreten Landstrom ab",
    ". Stay off": ". Fernbleiben",
    ". Ask the marina or look at the post": ". Hafen fragen oder Säule ansehen",
    ". Shed loads or charge": ". Verbraucher aus oder laden",
    ". Air the boat before you look": ". Vor dem Nachsehen lüften",
    ". Ask who it is": ". Fragen, wer es ist",
    ". Charge it at the boat": ". Am Boot laden",
    ". Charge it, or look": ". Laden oder nachsehen",
    ". Fill up": ". Tanken",
    ". Look at its supply and node": ". Versorgung und Knoten ansehen",
    ". Look at its wiring and node": ". Verdrahtung und Knoten ansehen",
    ". Look soon": ". Bald nachsehen",
    ". Look when you can": ". Bei Gelegenheit nachsehen",
    ". Throw perishables away after 2 h above 4 C": ". Verderbliches nach 2 h über 4 C wegwerfen",
    ". Look at the boat if it lasts": ". Hält es an, nachsehen",
    " Stops after cool-down, about 5 min.": " Stoppt nach dem Abkühlen, etwa 5 min.",
    " Off by itself when the time is over.": " Geht nach der Zeit von selbst aus.",
}
