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
    "{ONE} or {OTHER}": "{ONE} oder {OTHER}",
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
    ": call-out of {alarm} begins": ": {alarm} wird jetzt gerufen",
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
    ". {texts} to {count}, {arrived} arrived so far": ". {texts} an {count}, bisher {arrived} angekommen",
    "1 text": "1 Text",
    "{nr} texts": "{nr} Texte",
    ". What comes now is true": ". Was jetzt kommt, ist echt",
    ". Nobody was told of anything": ". Niemand bekam etwas",
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
    ". Last proof: none on record": ". Letzte Probe: keine verzeichnet",
    ". Last proof: {time}": ". Letzte Probe: {time}",
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
    ": the carrier was away. Not told meanwhile, and over or taken: alarm ": (
        ": der Netzdienst war weg. Solange nicht gemeldet und vorbei oder übernommen: Alarm "
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
    ": {alarm} still stands": ": {alarm} besteht noch",
    ". Still yours? Reply HAVE IT {number}": ". Noch bei Ihnen? ÜBERNEHME {number}",
    ". Without it the list is told from {time}": ". Sonst geht es ab {time} an die Liste",
    ": {name} has alarm {number} now, you no longer": ": Alarm {number} ist jetzt bei {name}, nicht mehr bei Ihnen",
    ": {name} hands over alarm {number}": ": {name} gibt Alarm {number} ab",
    ". {name} has it until somebody takes it": ". Bis jemand übernimmt, bleibt er bei {name}",
    ". Reply TAKE OVER {number}": ". Antworten Sie ÜBERNEHME JETZT {number}",
    ": alarm {number} is offered to {count} others": ": Alarm {number} ist {count} anderen angeboten",
    ". It stays yours until somebody does. Nobody by {time}: the list is told anew": (
        ". Bis dahin bleibt er bei Ihnen. Niemand bis {time}: die Liste wird neu benachrichtigt"
    ),
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
    ". Reply ALARMS": ". ALARME zeigt sie",
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
    "Starts by itself {time}": "Startet von selbst {time}",
    "On again by itself {time}": "Von selbst wieder an {time}",
    "Closes by itself {time}": "Schließt von selbst {time}",
    "Opens by itself {time}": "Öffnet von selbst {time}",
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
    "your text took {time} to get here, too old to switch anything. Nothing was switched": (
        "Ihr Text brauchte {time}, zu alt zum Schalten. Nichts geschaltet"
    ),
    " at the end of its time": " am Ende seiner Zeit",
    ". The gateway restarted meanwhile": ". Der Rechner startete inzwischen neu",
    ". Order HELD by gas or fire alarm {number}: switching can spark": (
        ". Befehl GEHALTEN, Gas- oder Feueralarm {number}: Schalten kann zünden"
    ),
    ". Keep away from the boat": ". Vom Boot fernbleiben",
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
    "No alarm stands now; what came and went meanwhile was not seen": (
        "Kein Alarm besteht; was solange kam und ging, wurde nicht gesehen"
    ),
    # the starter's own names and words, which an installer may have changed, and where names stand
    ": {alarm}": ": {alarm}",
    ", {alarm}": ", {alarm}",
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
    ". Under 20% the generator is not started from afar": ". Unter 20% kein Start von fern",
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
