# Deutsch. Die Wörter jedes Bildschirms; Zahlen und Tage werden eingesetzt.

## Tage

day = { $weekday }, { $day }. { $month }
today = heute
yesterday = gestern
tomorrow = morgen
weekday-1 = Mo
weekday-2 = Di
weekday-3 = Mi
weekday-4 = Do
weekday-5 = Fr
weekday-6 = Sa
weekday-7 = So
weekday-long-1 = Montag
weekday-long-2 = Dienstag
weekday-long-3 = Mittwoch
weekday-long-4 = Donnerstag
weekday-long-5 = Freitag
weekday-long-6 = Samstag
weekday-long-7 = Sonntag
month-1 = Jan.
month-2 = Feb.
month-3 = März
month-4 = Apr.
month-5 = Mai
month-6 = Juni
month-7 = Juli
month-8 = Aug.
month-9 = Sept.
month-10 = Okt.
month-11 = Nov.
month-12 = Dez.
week-label = KW { $number }
week-of = { $week }, { $day }

decimal-mark = ,
clock-am = vorm.
clock-pm = nachm.

## Arten von Kontakten

kind-vertical-rebound = vertikale Prellsprünge
kind-horizontal-series = horizontale Sprungfolgen
kind-held-landing = gehaltene Landungen
kind-lateral = seitlich
kind-event-take-off = Wettkampfabsprünge
kind-sprint = Sprint
kind-paused-jump = Einzelsprünge mit Pause

## Zahlen

contacts = { $n ->
    [one] { $n } Kontakt
   *[other] { $n } Kontakte
}
energy = { $energy } J/kg
leg-total = { $n } · { $energy } J/kg
load = Session-RPE { $load }
load-spoken = { $load } Session-RPE mal Minuten
session-rpe = Session-RPE × min
unrated = { $n ->
    [one] 1 ohne Bewertung
   *[other] { $n } ohne Bewertung
}
week-before-begin = { $week }: bevor etwas bekannt ist
incomplete-spoken = { $n ->
    [one] unvollständig, 1 Tag unbekannt
   *[other] unvollständig, { $n } Tage unbekannt
}
hardest = { $exercise }, { $speed } m/s, { $energy } J/kg je Bein
hardest-estimated = { $exercise }, etwa { $speed } m/s, { $energy } J/kg je Bein (Schätzung)
landing = Landung { $speed } m/s entlang des Beins, { $energy } J/kg je Bein
push = Abdruck im Mittel { $mean } Körpergewichte je Bein, Spitze etwa { $peak } ohne den Aufprall
mean-label = { $n ->
    [one] { $exercise }, 1 Kontakt
   *[other] { $exercise }, Mittel aus { $n } Kontakten
}
place-label = { $exercise }, { $what }
contact-label = Kontakt { $n }, { $foot }
label-landing = Landung
label-push = Abdruck
times-measured = Zeiten: in einem Clip gemessen
times-stated = Zeiten: wie angegeben
times-default = Zeiten: die üblichen der Übung, { $support } ({ $source })
move-hop = Hop
move-bound = Laufsprung
move-step = Step
move-jump = Jump
move-drop-jump = Absprung vom Kasten
move-rebound = Prellsprung
move-skip = Hopserschritt
move-sprint-stride = Laufschritt
move-take-off = Absprung
move-lateral-hop = Sprung zur Seite
move-landing = Landung
mark-measured = gemessen
mark-partly = Kontakt gemessen, der Rest geschätzt
mark-estimate = eine Schätzung
mark-published = aus veröffentlichten Werten
support-published = veröffentlicht
support-derived = aus veröffentlichten Zahlen errechnet
support-estimate = eine eigene Schätzung

## Ein Mitglied

no-name = Noch ohne Namen ({ $short })
level-beginner = Einstieg
level-intermediate = fortgeschritten
level-advanced = weit fortgeschritten
level-unknown = Stand nicht bekannt
age = { $years } Jahre
age-young = jung: { $years } Jahre
age-unknown = Alter nicht bekannt, gilt als jung
card-title = Karte von { $name }
card-about = Was nicht bekannt ist, wird nie als der bessere Wert genommen: ein unbekanntes Alter zählt als jung, eine unbekannte Stufe als Anfang. Jedes Feld steht für sich.
link-card = Die Karte ändern
card-name = Name
card-born = Geboren
card-level = Stand
card-take-off-leg = Sprungbein
card-hop-pattern = Sprungfolge
card-mass = Körpermasse
card-sprint = Sprint
card-stride = Schrittlänge im Anlauf
card-roster = Im Kader
not-known = nicht bekannt
side-left = links
side-right = rechts
pattern-llr = links, links, rechts
pattern-rrl = rechts, rechts, links
sprint = höchstens { $speed } m/s, Zeitkonstante { $tau } s
roster-active = im Kader
roster-left = nicht mehr im Kader

## Einheiten und Sätze

session = Einheit
exercise-unknown = eine Übung, die nicht im Katalog steht
set = { $reps } × { $exercise }
sets-alike = { $n } Sätze: { $set }
leg-left = linkes Bein
leg-right = rechtes Bein
leg-both = beide Beine
leg-alternate-left = Beine im Wechsel, links zuerst
leg-alternate-right = Beine im Wechsel, rechts zuerst
strides = { $n ->
    [one] Anlauf von 1 Schritt
   *[other] Anlauf von { $n } Schritten
}
run-in-distance = Anlauf von { $distance }
event-long-jump = Weitsprung
event-triple-jump = Dreisprung
jump-foul = ungültig
jump-attempt = Versuch { $n }
jump-wind = Wind { $speed } m/s
jump-no-gauge = kein Windmesser
jump-toe-behind = Fußspitze { $by } vor der Linie
jump-toe-over = Fußspitze { $by } über der Linie
jump-start-mark = Ablaufmarke bei { $distance }
last-10-m = letzte 10 m in { $seconds } s
cue-short = Hinweis: kurz
cue-high = Hinweis: hoch
warm-up = Aufwärmen
pit-landings = { $n ->
    [one] { $n } Landung in der Grube, bei keiner Art gezählt.
   *[other] { $n } Landungen in der Grube, bei keiner Art gezählt.
}
work-strength = Kraft
work-running = Laufen
work-general = allgemeine Übungen
work-other-sport = eine andere Sportart
work-school = Schulsport
work-other = anderes Training
warm-up-spoken = { $n } Kontakte beim Aufwärmen
box = Kasten { $height }
outside-load = Zusatzlast { $load }
contacts-each = { $n ->
    [one] je 1 Kontakt
   *[other] je { $n } Kontakte
}
effort = RPE { $rpe } × { $minutes } min
effort-missing = noch nicht bewertet: etwa 30 Minuten nach dem Ende fragen
label-day = Tag
label-effort = Anstrengung
label-location = Ort
label-surface = Boden
label-shoes = Schuhe
label-weather = Wetter
label-cut-short = Abgebrochen
surface-track = Bahn
surface-grass = Rasen
surface-hall = Hallenboden
surface-sand = Sand
surface-mat = Matte
surface-hard = harter Boden
shoes-spikes = Spikes
shoes-flats = flache Schuhe
shoes-bare = barfuß
trouble-exercise = Die Übung steht hier nicht im Katalog, darum wird das nicht gezählt.
trouble-field = Das passt nicht zur Übung, darum wird es nicht gezählt: { $why }
last-session = letzte Einheit { $what }
kept-here = nur auf diesem Gerät
kept-file = als Datei übergeben, { $at }; nicht bestätigt
kept-coach = auf dem Gerät des Trainers seit { $at }
kept-device = auf einem anderen Gerät seit { $at }
kept-elsewhere = von einem anderen Gerät bestätigt

## Zeitmessungen

take-title = { $exercise }, { $day }
take-note = Ein Clip gibt Zeiten, nie die Spitze des Aufpralls: Sie kann ein Mehrfaches der mittleren Kraft sein.
take-judging = Ablesen: ± { $frames } Bilder je Ereignis, so weit stimmen die eigenen Leute dieses Kaders überein.
take-rendered = Ein gezeichneter Clip, kein gefilmter.
target-value = { $about }: unter { $ms } ms
target-contact = Kontakt { $n }
targets-title = Zielwerte der Kontaktzeiten
targets-about = Ein eigener Zielwert geht vor dem des Kaders, der des Kaders vor einem veröffentlichten; wer Kontakt und Anlauf nennt, vor dem, der weniger nennt. Für Laufsprünge ist keiner hinterlegt, weil die Quellen sich widersprechen: Die eigene Bestzeit ist ein guter.
targets-squad = der Kader
take-refused = Keine Zeiten: { $why }
marking-title = Zeiten aus einem Clip
marking-filming = Von der Seite in Zeitlupe filmen, die Kamera ruhig, Fuß und Boden im Bild; die Originaldatei behalten. Was ein Nachrichtendienst weiterreicht, kann Bilder verloren haben.
marking-touchdown = Aufsetzen, { $foot }
marking-toe-off = Abheben, { $foot }
marking-between = { $what }: zwischen den Bildern { $before } und { $after }
marking-doubted = { $what }: unsicher zwischen den Bildern { $before } und { $after }
marking-no-clock = Noch gibt es keine Zeiten: Die Uhr des Clips ist nicht bekannt. Gib die Aufnahmerate an oder miss sie im Clip.
marking-no-rate = Keine Zeiten: Der Clip hat weniger als zwei Bilder, oder die meisten haben dieselbe Zeit.
marking-nothing = noch ist nichts markiert
clock-real = Die Zeiten des Clips sind echt.
clock-stretched = Der Clip ist gleichmäßig verlangsamt; seine Zeiten werden zurückgerechnet.
clock-mixed = Ein Teil des Clips ist verlangsamt, ein anderer nicht: Seine Zeiten sind so nicht zu brauchen.
clock-unknown = Ob die Zeiten des Clips echt sind, ist nicht bekannt.
clock-measured = Die Uhr wurde im Clip gemessen, auf { $share } % genau (Standardunsicherheit).
judged-moves = { $moves }: { $times } s.
judged-reactive = { $rebounds ->
    [one] Reaktivkraft { $value } ± { $half } m/s: Kontakt { $contact } s, Höhe { $height } m. Die Höhe ist aus der Flugzeit gelesen: Sie stimmt, wenn Körper und Beine so landen, wie sie abgehoben haben.
   *[other] Reaktivkraft über { $rebounds } Prellsprünge im Mittel { $value } ± { $half } m/s: Kontakt { $contact } s, Höhe { $height } m. Die Höhe ist aus der Flugzeit gelesen: Sie stimmt, wenn Körper und Beine so landen, wie sie abgehoben haben.
}
judged-mean = Das Mittel
judged-contact = Kontakt { $n }
judged-target = { $what } gegen { $target } ms ({ $source }): { $answer }
judged-own = eigener Zielwert
judged-squad = Zielwert des Kaders
judged-published = veröffentlicht, hier hat niemand einen gesetzt
judged-yes = darunter, mit { $share } %.
judged-no = nicht darunter; { $share } % dafür.
judged-cannot-tell = das kann diese Kamera nicht sagen; { $share } % für darunter. Sagen könnten es: { $would }.
judged-faster = { $rate } Bilder je Sekunde
judged-more = { $contacts } Kontakte bei dieser Rate
judged-nothing = hier wird nichts vorgeschlagen
judged-longer = Die { $contacts } Kontakte werden länger, um { $size } ms vom ersten zum letzten.
judged-shorter = Die { $contacts } Kontakte werden kürzer, um { $size } ms vom ersten zum letzten.
judged-steady = Über die { $contacts } Kontakte ist kein Längerwerden zu sehen.
judged-change-unseen = Seit { $day }: { $difference } ms. Diese Kamera zeigt Änderungen ab { $camera } ms.
judged-change-seen = Seit { $day }: { $difference } ms, das zeigt diese Kamera. Was von Tag zu Tag üblich ist, weiß man ab drei Tagen.
judged-change-usual = Seit { $day }: { $difference } ms. Von Tag zu Tag sind hier bis zu { $own } ms üblich.
judged-change-beyond = Seit { $day }: { $difference } ms, mehr als die { $own } ms, die hier von Tag zu Tag üblich sind.
judged-agreement = Von zwei Personen abgelesen: Bei { $events } Ereignissen liegen die Ablesungen im Mittel { $bias } Bilder auseinander, 95 % zwischen { $low } und { $high }.

## Zeitmessungen auf dem Telefon

takes-title = Kontaktzeiten
takes-choose = Zeitlupen-Clip wählen
takes-later = Noch zu markieren
takes-done = Zeiten behalten, Clip noch auf dem Telefon
takes-newest = Neueste Zeiten
takes-none = Noch ist kein Clip ausgewertet.
takes-gone = Der Clip ist nicht mehr dort, wo er gewählt wurde: Er wurde verschoben oder gelöscht, oder dieses Telefon darf ihn nicht mehr lesen.
takes-not-deleted = Der Clip lässt sich von hier aus nicht löschen. Lösch ihn dort, wo er liegt.
choose-title = Dieser Clip gibt keine verlässlichen Zeiten
choose-slow = Er hat { $rate } Bilder je Sekunde: Zwischen zweien liegen { $ms } ms, zu viel für einen Kontakt.
choose-original = Wähle die Originaldatei, so wie die Kamera sie abgelegt hat, in Zeitlupe gefilmt. Was ein Nachrichtendienst, ein Schnittprogramm oder ein Onlinespeicher weitergibt, kann Bilder oder deren Zeiten verloren haben.
choose-another = Anderen Clip wählen
choose-anyway = Diesen trotzdem markieren
clip-size = { $size } MB
clip-size-small = { $size } kB
clips-full = { $n } Clips warten aufs Markieren, für mehr ist kein Platz. Markiere einen oder nimm einen von der Liste, und wähle diesen dann noch einmal.
clip-chosen = gewählt { $day }
clip-marks = { $n ->
    [0] noch nichts markiert
    [one] { $n } Marke
   *[other] { $n } Marken
}
clip-delete = Clip löschen, Zeiten behalten
clip-hold-delete = Gedrückt halten: Clip löschen, Zeiten behalten
clip-hold-delete-size = Gedrückt halten: Clip löschen, Zeiten behalten ({ $size })
clip-delete-size = Clip löschen, Zeiten behalten ({ $size })
clip-keep = Clip behalten, von der Liste nehmen
clip-drop = Von der Liste nehmen, ohne die Marken
clip-hold-drop = Gedrückt halten: von der Liste nehmen, ohne die Marken
judged-line-mean = Mittel aus { $n }: { $time }
judged-line-newest = Kontakt { $n }: { $time }
judged-line-below = { $time } · unter { $target }
judged-line-above = { $time } · nicht unter { $target }
judged-line-cannot = { $time } · von { $target } nicht zu unterscheiden
mark-none = Noch ist nichts markiert.
mark-whose = Sag unter „Einzelheiten“, wessen Clip das ist und was er zeigt.
mark-open = Noch ist kein Kontakt vollständig: Sein Abheben fehlt.
mark-ended = Hier endet die Übung; das wäre ein weiteres Ereignis.
mark-before-touchdown = noch nicht
mark-after-touchdown = am Boden
mark-before-toe-off = noch am Boden
mark-after-toe-off = weg
mark-hint-touchdown = Blättere, bis ein Bild den Fuß noch nicht am Boden zeigt und das nächste am Boden. Tippe auf die Lücke dazwischen. Kann ein Bild beides sein, zieh die Lücke darüber.
mark-hint-toe-off = Blättere, bis ein Bild den Fuß noch am Boden zeigt und das nächste in der Luft. Tippe auf die Lücke dazwischen. Kann ein Bild beides sein, zieh die Lücke darüber.
mark-caption = { $frame } · { $time } s
mark-outside = außerhalb des Clips
mark-frame = Bild { $frame }, { $time } s; das letzte ist { $last }
mark-no-gap = Hier ist keine Lücke
mark-undo = Zurücknehmen
mark-undo-what = Zurücknehmen: { $what }
mark-save = Zeiten sichern
mark-later = Später markieren
mark-more = Einzelheiten
mark-less = Weniger Einzelheiten
mark-foot = Wo der Fuß ist
mark-foot-hint = Zieh den Rahmen dorthin, wo der Fuß den Boden trifft. Er bleibt für diesen Clip dort.
mark-closer = Näher
mark-wider = Weiter
mark-pin = Hier lassen
mark-strip = Bilder
mark-on = Ein Bild weiter
mark-back = Ein Bild zurück
mark-other-foot = Anderer Fuß
mark-other-kind = Anderes Ereignis
mark-shows = Der Clip zeigt
mark-sets = Ein eingetragener Satz
mark-exercises = Oder eine Übung
mark-rate-title = Bilder je Sekunde bei der Aufnahme
mark-rate-own = wie der Clip sagt
mark-rate = { $rate }
mark-hand = Gehalten in der
mark-hand-left = linken Hand
mark-hand-right = rechten Hand
mark-doubt-before = Unsicher: auch das Bild vor der Lücke
mark-doubt-after = Unsicher: auch das Bild nach der Lücke
mark-no-picture = Dieses Telefon kann die Bilder dieses Clips nicht zeigen.
rendered-on = { $day }, gezeichneter Clip
foot-left = links
foot-right = rechts
foot-both = beide Füße

## Was weh tut, Grenzen

hurt = { $place }: { $score } von 10, { $day }
part-foot = Fuß
part-ankle = Sprunggelenk
part-achilles = Achillessehne
part-calf = Wade
part-shin = Schienbein
part-knee = Knie
part-thigh = Oberschenkel vorn
part-hamstring = Oberschenkel hinten
part-groin = Leiste
part-hip = Hüfte
part-low-back = unterer Rücken
part-elsewhere = anderswo
private-not-shared = Was weh tut, ist nicht freigegeben.
private-none = Was weh tut, ist freigegeben; aufgeschrieben wurde nichts.
private-withdrawn = Die Freigabe wurde zurückgenommen: Was vorher kam, wird hier nicht mehr gezeigt und bleibt, bis es gelöscht wird.
limit-one-leg-left = keine einbeinigen Kontakte links
limit-one-leg-right = keine einbeinigen Kontakte rechts
limit-approach = kein Anlauf
limit-box = Kästen bis { $height }
limit-until = { $what }; { $from } bis { $until }, gesagt von { $by }
limit-open = { $what }; ab { $from } bis auf Widerruf, gesagt von { $by }
limit-past = vorbei oder noch nicht: { $limit }
said-by-coach = Trainerseite
said-by-clinician = ärztlicher oder therapeutischer Seite

## Widersprüche

clashes = { $n ->
    [one] 1 Sache wurde von zwei Personen verschieden aufgeschrieben
   *[other] { $n } Sachen wurden von zwei Personen verschieden aufgeschrieben
}
clash-effort = Anstrengung einer Einheit
clash-session = Eine Einheit
clash-set = Ein Satz
clash-plan = Eine geplante Einheit
clash-take = Eine Zeitmessung
clash-limit = Eine Grenze
clash-jump = Ein Sprung
clash-other-training = Anderes Training
clash-test = Ein Testergebnis
clash-growth = Eine Körpergröße
clash-landing-control = Wie Landungen abgefangen wurden
clash-rule = Eine Regel
clash-advice = Ein ärztlicher Rat
clash-target = Ein Zielwert der Kontaktzeit
clash-squad = Name des Kaders
clash-exercise = Eine Übung
clash-device = Was ein Gerät darf
clash-consent = Freigabe dessen, was weh tut
clash-check-in = Ein Befinden
clash-rest = Ein Ruhetag
clash-complete = Wie weit das Tagebuch vollständig ist
clash-spoken = { $what } wurde verschieden aufgeschrieben: { $values }
written-at = { $who }, { $when }
moment = { $day } um { $time }
device-this = dieses Gerät
device-named = { $whose } ({ $short })
hurts-nothing = nichts tut weh, { $day }
slept = { $hours } h { $minutes } min geschlafen
deleted = gelöscht
unreadable = hier nicht lesbar: { $why }
another-value = ein anderer Wert
consent-given = freigegeben
consent-withdrawn = nicht freigegeben

## Hinweise

line-of-product = { $source }.
line-of-squad = Eine Grenzlinie des Kaders: { $reason }.
line-of-athlete = Eine Grenzlinie für diese Person: { $reason }.
spike-week-contacts-saw = { $kind }: { $now } Kontakte in dieser Woche, im Mittel { $mean } in den { $weeks } vollständigen Wochen davor.
spike-week-contacts-rule = Gezeigt ab { $line } % dieses Mittels und ab 20 Kontakten, nur bei vollständigen Wochen.
spike-week-contacts-do = Mit dem Geplanten vergleichen; die nächsten Tage leichter halten, wenn es nicht so gemeint war.
spike-week-load-saw = Trainingslast { $now } in dieser Woche, im Mittel { $mean } in den { $weeks } vollständigen Wochen davor.
spike-week-load-rule = Gezeigt ab { $line } % dieses Mittels, nur bei vollständigen Wochen, in denen alles bewertet wurde.
spike-week-load-do = Mit dem Geplanten vergleichen; die nächsten Tage leichter halten, wenn es nicht so gemeint war.
spike-hardest-contact-saw = { $kind }: Der härteste Kontakt dieser Woche war härter als jeder der { $weeks } vollständigen Wochen davor. Jetzt: { $now }. Davor: { $before }.
spike-hardest-contact-rule = Gezeigt ab { $line } % der Energie des härtesten Kontakts davor.
spike-hardest-contact-do = Die Ausführung ansehen; solche Kontakte wenige, ausgeruht und nach den leichteren Formen.
spike-first-exposure-saw = { $exercise } am { $day }: in den { $weeks } Wochen davor nicht gemacht.
spike-first-exposure-approach-saw = { $exercise } am { $day } mit { $approach }: in den { $weeks } Wochen davor nicht von so weit gemacht.
spike-first-exposure-rule = Gezeigt für das, was { $line } Wochen lang nicht gemacht wurde, oder so viele, wie bekannt sind, mindestens vier.
spike-first-exposure-do = Die ersten Sätze ansehen; wenige Kontakte, ganz ausgeruht; am nächsten Morgen nach den Beinen fragen.
spike-hard-days-saw = Harte Kontakte am { $first } und wieder am { $second }.
spike-hard-days-hours-saw = Harte Kontakte am { $first } und wieder am { $second }, { $hours } Stunden später.
spike-hard-days-rule = Gezeigt für zwei Tage mit harten Kontakten, die weniger als { $line } Stunden auseinanderliegen. Was als hart gilt, ist je Art eine eigene Linie.
spike-hard-days-do = Einen leichteren Tag dazwischen einplanen, wenn es nicht so gemeint war.
spike-gap-saw = Wieder Sprünge am { $day }, nach mindestens { $days } Tagen ohne.
spike-gap-rule = Gezeigt nach { $line } Tagen ohne Sprungkontakte, die alle bekannt sind.
detail-monotony = Monotonie der letzten 7 Tage
detail-monotony-note = Mittlere Tageslast durch ihre Stichproben-Standardabweichung, Ruhetage 0 (Foster 1998). Für gleiche Tage nicht bestimmt.
detail-strain = Strain der letzten 7 Tage
detail-strain-note = Die Last der Woche mal ihre Monotonie (Foster 1998).
detail-averages = Mittelwerte der Trainingslast
detail-averages-value = { $acute } über 7 Tage, { $chronic } über 28 Tage
detail-averages-note = Exponentiell gewichtet, begonnen mit dem ersten Tag (Williams et al. 2017).
detail-ratio = Verhältnis der beiden, akut zu chronisch
detail-ratio-value = { $averages } der Mittelwerte; der Summen { $coupled } mit der Woche im Monat, { $uncoupled } ohne
detail-ratio-early = Noch nicht genug Tage: { $days } von 28 hintereinander bekannt
detail-ratio-note = Nur eine Beschreibung. Eine feste oder zufällige Zahl unter dem Bruchstrich geht fast ebenso gut mit Verletzungen einher (Impellizzeri et al. 2020, doi 10.1007/s40279-020-01378-6), darum bedeutet kein Bereich davon hier etwas.
detail-smoothness = Wie gleichmäßig die Wochen verliefen
detail-smoothness-value = { $weeks } Wochen: dritte Differenzen { $course }, die der glattesten Kurve zwischen denselben Enden { $curve }
detail-smoothness-incomplete = Eine Woche ist unvollständig oder nicht ganz bewertet
detail-smoothness-note = Quadratische Mittel über die Trainingslast je Woche. Die glatteste Kurve ist die mit dem kleinsten Ruck (Flash & Hogan 1985, Wert aus dem Gedächtnis); je näher die beiden, desto weniger Stöße. Ein gerader Anstieg hat keine.
detail-hardest = { $kind }, härteste aus 4 Wochen
detail-hardest-value = { $n } Kontakte mit { $line } J/kg je Bein oder mehr; das härteste Fünftel nahm { $percent } % der Energie auf
detail-hardest-share = das härteste Fünftel nahm { $percent } % der Energie auf
detail-legs = { $kind }, Beine in 4 Wochen
detail-legs-value = links { $left }, rechts { $right }
detail-incomplete = Unvollständig: { $n } von 7 Tagen sind unbekannt oder nicht bewertet
detail-not-a-week = Noch keine 7 Tage
detail-undefined = nicht bestimmt
detail-days-unknown = Unvollständig: Tage sind unbekannt oder nicht bewertet
legs-even = Meist auf jedem Bein gleich viele, wo die Beine wechseln.
legs-take-off-left = Weitsprung-Absprünge sind links.
legs-take-off-right = Weitsprung-Absprünge sind rechts.
legs-pattern-llr = Ein Dreisprung links, links, rechts hat links zwei Kontakte, rechts einen.
legs-pattern-rrl = Ein Dreisprung rechts, rechts, links hat rechts zwei Kontakte, links einen.
legs-not-known = Sprungbein und Sprungfolge stehen nicht auf der Karte.
spike-gap-do = Niedriger beginnen, als es endete, und einige Einheiten Zeit lassen (übliche Praxis, ohne Quelle).
notice-limit-saw = { $exercise } am { $day } verstößt gegen eine Grenze: { $limit }.
notice-limit-rule = Eine Grenze gilt, bis sie endet oder aufgehoben wird.
notice-limit-source = Die Grenze selbst.
notice-limit-do = Nachfragen, was gemacht wurde; die Grenze nur mit dem aufheben, der sie gesetzt hat.
notice-pain-rising-saw = { $place }: { $now } von 10 in den letzten 7 Tagen, { $before } in den 7 Tagen davor.
notice-pain-rising-rule = Schmerz, der von einer Woche zur nächsten steigt: das lassen, was ihn auslöst.
notice-pain-rising-source = Nach Silbernagel et al. 2007 (Achillessehne, Erwachsene); Wortlaut von uns.
notice-pain-rising-do = Von einer zugelassenen Fachperson ansehen lassen. Das ist keine Diagnose; örtliche Regeln gehen vor.
notice-pain-high-saw = { $place }: { $now } von 10 in den letzten 7 Tagen.
notice-pain-high-rule = Über 5 von 10: aufhören.
notice-pain-high-source = Nach Silbernagel et al. 2007 (Achillessehne, Erwachsene); Wortlaut von uns.
notice-pain-high-do = Von einer zugelassenen Fachperson ansehen lassen. Das ist keine Diagnose; örtliche Regeln gehen vor.
notice-pain-young-saw = { $place }: { $now } von 10 in den letzten 7 Tagen.
notice-pain-young-rule = Unter 18 oder bei unbekanntem Alter gilt kein Schmerzwert als hinnehmbar.
notice-pain-young-source = Eine eigene Regel; veröffentlichte Grenzen für Schmerz wurden für Erwachsene gemacht.
notice-pain-young-do = Fragen, wo und auf welcher Seite, und anbieten, die Einheit zu beenden. Bei Hinken, Schmerz in der Nacht oder an einer einzelnen Knochenstelle, Schwellung, Wegknicken oder einem unteren Rücken, der beim Hohlkreuz schmerzt: aufhören und von einer zugelassenen Fachperson ansehen lassen.
notice-pain-new-saw = { $place }: { $now } von 10 in den letzten 7 Tagen, nichts davon in den 7 Tagen davor.
notice-pain-new-rule = Nach neuem Schmerz wird vor allem anderen gefragt.
notice-pain-new-source = Eine eigene Regel.
notice-pain-new-do = Fragen, wo und auf welcher Seite, und anbieten, die Einheit zu beenden. Bei Hinken, Schmerz in der Nacht oder an einer einzelnen Knochenstelle, Schwellung, Wegknicken oder einem unteren Rücken, der beim Hohlkreuz schmerzt: aufhören und von einer zugelassenen Fachperson ansehen lassen.

notice-kept-saw = Hat den Kader verlassen; die Daten sollten bis { $day } bleiben.
notice-kept-rule = Das Datum wurde beim Verlassen gesetzt.
notice-kept-source = Der Kader.
notice-kept-do = Löschen, was hier liegt, oder unter „Geräte“ ein späteres Datum setzen, wenn es einen Grund gibt.
notice-clocks-saw = Uhren, die von der dieses Geräts abweichen: { $clocks }.
notice-clocks-rule = Gezeigt ab zehn Minuten, wie es beim letzten Treffen war.
notice-clocks-source = Eine eigene Linie, ohne Quelle.
notice-clocks-do = Diese Uhren stellen. Die Tage dessen, was dort geschrieben wurde, können falsch sein; sonst hängt nichts davon ab.
notice-clock-rule = Gezeigt, wenn sie um mehr als zehn Minuten von jedem zuletzt getroffenen Gerät abweicht oder früher zeigt als beim letzten Schreiben hier.
notice-clock-source = Eine eigene Linie, ohne Quelle.
notice-clock-do = Die Uhr dieses Geräts stellen, dann noch einmal abgleichen.
notice-apart-rule = Was nicht zählt, bleibt erhalten, mit dem Grund.
notice-apart-source = Wer in diesem Kader aufgenommen, entfernt und womit betraut wurde.
notice-apart-do = Die Gründe ansehen. Was gemeint war, kann aufgenommen oder sein Gerät zugelassen werden.
notice-copy-rule = Gezeigt, wenn ein Buch zurückspringt oder an zwei Orten weitergeschrieben wird.
notice-copy-source = Was dieses Gerät neben dem Buch vermerkt hat.
notice-copy-do = Mit den Geräten abgleichen, die vorher getroffen wurden.
notice-removed-rule = Ein Gerät des Trainers oder der Wiederherstellungsschlüssel hat dieses entfernt.
notice-removed-source = Wer in diesem Kader aufgenommen und entfernt wurde.
notice-removed-do = Den Trainer fragen, der es entfernt hat. Was hier geschrieben wurde, kann aufgenommen werden.
notice-wish-rule = Ein Gerät mit den eigenen Daten eines Mitglieds wird gefragt, bevor sie gehen.
notice-wish-source = Die Löschung durch den Trainer.
notice-wish-do = Zustimmen oder behalten, was hier ist.
notice-this-device = Dieses Gerät

## Die Tafel

squad = Kader
squad-empty = Noch niemand da: ein Telefon einladen oder einen Namen in den Kader setzen.
nothing-to-look-at = In dem, was angekommen ist, fällt diese Woche nichts auf.
demo-note = Ein erfundener Kader: Jeder Name, Ort und jede Zahl hier ist ausgedacht.
apart-waiting = { $n ->
    [one] 1 Eintrag wartet darauf, dass sein Gerät zugelassen wird.
   *[other] { $n } Einträge warten darauf, dass ihr Gerät zugelassen wird.
}
apart-refused = { $n ->
    [one] 1 Eintrag zählt nicht.
   *[other] { $n } Einträge zählen nicht.
}
apart-aside = { $n ->
    [one] 1 Lieferung wurde abgelehnt und liegt beiseite.
   *[other] { $n } Lieferungen wurden abgelehnt und liegen beiseite.
}
note-landing = Landung: das Tempo, mit dem sich der Körper entlang des Beins dem Boden nähert, und die Energie, die jedes Bein aufnimmt. Ein eigenes Modell; es ordnet Kontakte einer Art und ist keine Kraft.
note-push = Abdruck: mittlere Kraft aus Kontakt- und Flugzeiten. Ein Clip zeigt nie die Spitze des Aufpralls.
note-kinds = Arten von Kontakten werden getrennt gezählt und nie zusammengezählt: Über Arten hinweg führt die Energie in die Irre.
note-unknown = Ein Tag ohne Eintrag kann Ruhe sein, nicht aufgeschrieben oder nicht angekommen. Eine solche Woche heißt unvollständig, und kein Anstieg wird an ihr beurteilt.
note-estimate = Zahlen ohne Zeit aus einem Clip beruhen auf den üblichen Zeiten der Übung, viele davon eigene Schätzungen.
note-care = Nichts hier sagt eine Verletzung voraus oder nennt eine Last harmlos. Örtliche Regeln und zugelassene Fachpersonen gehen vor.

## Geräte und Mitglieder

devices-title = Geräte
devices-alone = Dieses Gerät gehört noch zu keinem Kader. Es arbeitet allein; was es hält, kommt mit, wenn es einem beitritt.
devices-read-only = Wer zum Kader gehört, soweit dieses Gerät es gehört hat. Nur die Geräte des Trainers ändern es.
devices-note = Ein Gerät erkennt man an den ersten Zeichen seines Schlüssels. Vergleiche sie mit denen auf dem anderen Gerät, bevor du etwas änderst.
device-here = dieses Gerät
device-key = Schlüssel { $short }
device-since = Im Kader seit { $when }.
device-met = Zuletzt getroffen { $when }.
device-met-ago = Zuletzt getroffen vor { $n } Tagen, { $when }.
device-never-met = Von hier aus noch nicht getroffen.
device-clock = Seine Uhr war beim letzten Treffen { $by }.
device-has = { $n ->
    [one] Es hat 1 hier geschriebenen Satz, seit { $when }.
   *[other] Es hat { $sets } hier geschriebene Sätze, den letzten seit { $when }.
}
device-in-file = { $n ->
    [one] 1 Satz wurde ihm als Datei übergeben, { $when }; nicht bestätigt.
   *[other] { $sets } Sätze wurden ihm als Datei übergeben, { $when }; nicht bestätigt.
}
device-removed = Aus dem Kader entfernt.
device-late = { $n ->
    [one] 1 Eintrag, der später kam, liegt hier und zählt nicht.
   *[other] { $n } Einträge, die später kamen, liegen hier und zählen nicht.
}
do-remove = Entfernen …
do-take-in = Zählen, was später kam
do-readmit = Entfernen zurücknehmen
do-give = Mehr geben
link-aside = Nicht gezählt: jetzt nichts
link-wishes = Was der Trainer von diesem Gerät möchte
link-sharing = Wer sieht, was weh tut: { $name }
link-sharing-own = Wer sieht, was weh tut
link-roster = Kader verlassen, doppelt eingetragen oder zu löschen
whose-owner = Das Gerät des Trainers
whose-athlete = Gerät von { $names }
whose-assistant = Ein Gerät der Trainerassistenz
whose-medical = Ein medizinisches Gerät
whose-guardian = Ein Gerät von Erziehungsberechtigten
whose-nobody = Ein nicht zugelassenes Gerät
whose-own = Dein Gerät
whose-other = Gerät von jemand anderem im Kader
whose-recovery = Der Wiederherstellungsschlüssel
given-serves = Dient auch { $names }.
given-assists = Hilft beim Training von { $names }.
given-treats = Liest, was { $names } medizinischem Personal freigeben.
given-guards = Erziehungsberechtigt für { $names }.
given-limits = Schreibt Grenzen für { $names }.
given-consents = Bestimmt, wer sieht, was { $names } weh tut.
given-everyone = alle
role-owner = Trainer
role-assistant = Trainerassistenz
role-athlete = Mitglied
role-medical = medizinisches Personal
role-guardian = erziehungsberechtigt
member-left = Ausgeschieden am { $since }. Kein Datum gesetzt, bis zu dem die Daten bleiben.
member-left-until = Ausgeschieden am { $since }. Die Daten bleiben bis { $until }.
member-erased = Der Trainer hat dieses Mitglied gelöscht; dieses Gerät behält seine eigene Kopie.
member-tied = Doppelt eingetragen, zu einer Person verbunden.
do-leave = Kader verlassen …
do-keep-until = Datum ändern …
do-come-back = Wieder im Kader
do-two-persons = Es sind zwei Personen
do-erase = Löschen …
same-note = Die beiden Einträge verbinden: Ihre Daten werden dann zusammen gezeigt und gezählt, und wer den einen sehen darf, sieht auch den anderen. Das lässt sich zurücknehmen.
leave-note = Wer ausgeschieden ist, steht nicht mehr auf der Tafel. Die Daten bleiben, bis sie gelöscht werden. Am angegebenen Tag erinnert die Tafel daran.
remove-title = Aus dem Kader entfernen: { $whose } ({ $short })?
remove-counts = Was es geschrieben hat, zählt, soweit es hier angekommen ist.
remove-late = Was später ankommt, bleibt erhalten und steht unter „Nicht gezählt“. Es zählt nicht, bis du es aufnimmst.
remove-stops = Die anderen Geräte erfahren es beim nächsten Abgleich. Von da an geben sie ihm nichts mehr.
remove-back = Du kannst das Entfernen zurücknehmen.
remove-keeps = Das Gerät behält, was es hat. Auf ihm wird nichts gelöscht.
remove-senior = Es ist auch ein Gerät des Trainers. Entfernen sich zwei solche Geräte gegenseitig, bleibt das zuerst zugelassene. Der Wiederherstellungsschlüssel entfernt jedes.
remove-yes = Gerät entfernen
confirm-no = Nein, zurück zu den Geräten
erase-title = { $name } löschen?
erase-here = Alles, was über { $name } hier liegt, geht sofort von diesem Gerät: Einheiten, Zeiten, Grenzen, was weh tut.
erase-staff = Von den anderen Geräten von Trainer, Assistenz und medizinischem Personal geht es beim nächsten Abgleich. Bis dahin haben sie es.
erase-nobody-asked = Hier ist kein Gerät dieses Mitglieds oder von Erziehungsberechtigten bekannt, darum wird keines gefragt.
erase-asked = { $n ->
    [one] 1 Gerät dieses Mitglieds oder von Erziehungsberechtigten wird gefragt. Wer es hält, entscheidet und darf die Kopie behalten.
   *[other] { $n } Geräte dieses Mitglieds oder von Erziehungsberechtigten werden gefragt. Wer sie hält, entscheidet und darf die Kopie behalten.
}
erase-final = Es lässt sich nicht zurücknehmen.
erase-copies = Sicherungen, Exporte, Ausdrucke und übergebene Dateien. Lösche sie selbst. Wird eine Sicherung auf dieses Gerät zurückgespielt, wird noch einmal gelöscht, was hier gelöscht war.
erase-trace = Dass es ein Mitglied gab, das gelöscht wurde, wann und von welchem Gerät. Das bleibt ohne Namen im Protokoll des Kaders.
erase-files-known = Diese Dateien sind hier bekannt. Jede kann noch Daten dieses Mitglieds enthalten:
erase-files-unknown = Hier ist keine Sicherung und keine übergebene Datei bekannt. Es kann andere geben.
erase-yes = { $name } löschen
file-backup = Sicherung vom { $when }: { $path }
file-handed = Datei, übergeben an { $whose }, { $when }

## Uhren

clock-ahead = { $span } voraus
clock-behind = { $span } zurück
clock-of = { $whose } ({ $short }) { $by }
clock-own-ahead = Die Uhr dieses Geräts geht { $span } vor gegenüber jedem zuletzt getroffenen Gerät.
clock-own-behind = Die Uhr dieses Geräts geht { $span } nach gegenüber jedem zuletzt getroffenen Gerät.
clock-own-back = Die Uhr dieses Geräts zeigt einen früheren Tag als beim letzten Schreiben.
clock-own-means = Stelle die Uhr. Nur die gezeigten Zeiten hängen davon ab.
clock-own-doubt = Stelle die Uhr. Bis dahin gilt jede Grenze, auch eine, deren Ende vorbei ist.
span-minutes = { $n } Minuten
span-hours = { $n } Stunden
span-days = { $n } Tage
span-years = { $n } Jahre

## Nicht gezählt

apart-title = Nicht gezählt
apart-note = Nichts, was ankommt, fällt ohne ein Wort weg. Was nicht zählt, liegt hier mit seinem Grund. Es wird neu beurteilt, wenn sich daran etwas ändert.
apart-no-entries = Jeder Eintrag hier zählt.
apart-no-refused = Nichts wurde abgelehnt.
apart-more = { $n ->
    [one] 1 älterer Eintrag ist nicht aufgeführt.
   *[other] { $n } ältere Einträge sind nicht aufgeführt.
}
apart-of = { $kind }, von { $name }
apart-late = { $n ->
    [one] { $whose }: 1 Eintrag kam, nachdem es entfernt war.
   *[other] { $whose }: { $n } Einträge kamen, nachdem es entfernt war.
}
apart-kind-unknown = Etwas, das diese Fassung nicht kennt ({ $kind })
apart-from-unknown = Ein unbekannter Absender
apart-when = { $times ->
    [one] { $when }, { $bytes } Bytes
   *[other] { $when }, { $bytes } Bytes, { $times } Mal
}
fact-squad = Gründung oder Name des Kaders
fact-device = Was ein Gerät darf
fact-member = Karte oder Kader
fact-exercise = Eine Übung
fact-consent = Wer sieht, was weh tut
fact-session = Eine Einheit
fact-set = Ein Satz
fact-plan = Eine geplante Einheit
fact-take = Ein Clip mit Zeiten
fact-jump = Ein Sprung
fact-other-training = Anderes Training
fact-test = Ein Testergebnis
fact-growth = Eine Körpergröße
fact-landing-control = Wie Landungen abgefangen wurden
fact-rule = Eine Regel
fact-advice = Ein ärztlicher Rat
fact-target = Ein Zielwert der Kontaktzeit
fact-check-in = Ein Befinden
fact-rest = Ein Ruhetag
fact-complete = Wie weit das Tagebuch vollständig ist
fact-limit = Eine Grenze
fact-same-person = Dass zwei Einträge eine Person sind
fact-withdrawal = Ein zurückgenommener Eintrag
fact-erasure = Eine Löschung
why-waiting = Wartet: Nichts, was sein Gerät zulässt, ist hier angekommen.
why-owner-only = Das schreibt nur ein Gerät des Trainers.
why-member-only = Das schreiben nur die eigenen Geräte des Mitglieds.
why-not-given = Dafür hat sein Gerät keine Zulassung.
why-wrong-scope = Es spricht von etwas, das nicht dorthin gehört, wo es steht.
why-second-founding = Ein Kader wird einmal gegründet.
why-removed = Das Gerät wurde entfernt, bevor das ankam.
why-senior = Es betrifft ein Gerät, das vor dem schreibenden zugelassen wurde.
why-erased = Die Daten des Mitglieds wurden gelöscht.
then-waiting = Mit dem Gerät abgleichen, das es zugelassen hat, oder es einladen.
then-owner-only = Wenn es gemeint ist, auf einem Gerät des Trainers schreiben.
then-member-only = Das Mitglied selbst schreiben lassen.
then-not-given = Wenn es gemeint ist, dem Gerät unter „Geräte“ mehr geben. Dann zählt es.
then-wrong-scope = Neu schreiben, wo es hingehört.
then-second-founding = Nichts zu tun: Der Kader geht weiter, wie er ist.
then-removed = Wenn es zählen soll, zählt es „Zählen, was später kam“.
then-senior = Ein früher zugelassenes Gerät des Trainers kann es, oder der Wiederherstellungsschlüssel.
then-erased = Nichts zu tun: Es geht mit dem Rest.

## Freigabe

sharing-title = Wer sieht, was weh tut: { $name }
sharing-about = Was weh tut und wie die Nächte waren, ist privat. Die eigenen Geräte des Mitglieds und Erziehungsberechtigte sehen es. Alle anderen sehen es nur, solange es für sie freigegeben ist.
sharing-who-may = Das ändern nur die eigenen Geräte des Mitglieds oder eines von Erziehungsberechtigten, dem es gegeben wurde.
share-coach = Der Trainer
share-assistants = Trainerassistenz
share-medical = Medizinisches Personal
sharing-on = Freigegeben
sharing-off = Nicht freigegeben
sharing-disputed = Zwei Geräte sagen Verschiedenes: nicht freigegeben, bis eines gewählt ist
sharing-withdrawing = Endet die Freigabe, wird nichts mehr gesendet, und was gesendet war, wird nicht mehr gezeigt. Es bleibt auf den Geräten, die es haben, bis es gelöscht wird.

## Was der Trainer möchte

wish-title = Der Trainer bittet, { $name } von diesem Gerät zu löschen
wish-asked = Der Trainer hat gelöscht, was das Personal hatte. Dieses Gerät hat eine Kopie für die Person selbst. Du entscheidest darüber.
wish-agree = Stimmst du zu, geht sofort alles, was dieses Gerät über { $name } hat, auch ein begonnener und nicht gesicherter Satz. Es lässt sich nicht zurücknehmen.
wish-keep = Behältst du es, bleibt es auf diesem Gerät und wird nicht an das Personal gesendet. Du kannst später noch zustimmen.
wish-kept = Du hast dich fürs Behalten entschieden.
wish-do-agree = Zustimmen und löschen
wish-do-keep = Hier behalten
wish-none = Von diesem Gerät wird nichts gewünscht.
here-removed = Dieses Gerät wurde aus dem Kader entfernt. Was es bis dahin gesendet hatte, zählt. Was du jetzt schreibst, bleibt hier; das Gerät des Trainers hält es getrennt und zählt es nicht.
here-wish = Der Trainer bittet dieses Gerät zu löschen, was es über { $name } hat. Nichts geht, bevor du zustimmst.
here-copy = Dieses Buch wurde aus einer älteren Kopie zurückgespielt oder an zwei Orten weitergeschrieben. Es ging in neuen Protokollen weiter; was fehlt, kommt beim nächsten Abgleich von dem, der es hat.

## Heute

only-here = { $n ->
    [one] 1 Satz nur auf diesem Gerät, von { $day }
   *[other] { $n } Sätze nur auf diesem Gerät, der älteste von { $day }
}
only-here-others = { $n ->
    [one] Kein Satz, aber 1 anderer Eintrag nur auf diesem Gerät.
   *[other] Kein Satz, aber { $n } andere Einträge nur auf diesem Gerät.
}
all-carried = Nichts ist nur auf diesem Gerät.
action-log-set = Satz aufschreiben
action-go-on = Mit dem begonnenen Satz weitermachen
action-check-in = Sagen, wie es dir geht
log-set-title = Satz aufschreiben
check-in-title = Wie es dir geht, { $day }
check-in-score = Von 0, weg, bis 10, das Schlimmste, was du dir vorstellen kannst
check-in-shared = Der Trainer sieht das: Du hast es freigegeben.
check-in-private = Nur deine eigenen Geräte sehen das: Du gibst es nicht frei.

## Austausch

exchange-title = Abgleich
exchange-only-here = { $n ->
    [one] 1 Satz nur auf diesem Telefon, von { $day }
   *[other] { $n } Sätze nur auf diesem Telefon, der älteste von { $day }
}
exchange-only-others = { $n ->
    [one] Kein Satz, aber 1 anderer Eintrag nur auf diesem Telefon
   *[other] Kein Satz, aber { $n } andere Einträge nur auf diesem Telefon
}
exchange-all-carried = Nichts ist nur auf diesem Telefon
exchange-no-squad = Dieses Telefon ist noch in keinem Kader. Aufschreiben kannst du trotzdem: Was hier ist, geht mit, wenn es einem beitritt.
exchange-squad = Im Kader { $name }.
exchange-do-sync = Jetzt abgleichen
exchange-do-join = Auf eine Einladung antworten
exchange-do-hand-over = Eine Datei übergeben
exchange-do-take-in = Eine Datei aufnehmen
exchange-low-battery = Der Akku ist schwach oder wird geschont. Ein Abgleich kann warten: Dadurch geht hier nichts verloren.
exchange-note = Von selbst wird nichts gesendet. Ein Abgleich beginnt, wenn du ihn antippst, nur mit dem Gerät, mit dem du gekoppelt bist, und hört auf, wenn er fertig ist. Im Netz steht nirgends dein Name.
exchange-sessions = Wo deine Einheiten sind
exchange-no-sessions = In den letzten vier Wochen wurde keine Einheit aufgeschrieben.
exchange-older = Auch ältere sind nur auf diesem Telefon, die älteste von { $day }.
exchange-kept-here = nur auf diesem Telefon
exchange-kept-file = in einer Datei, übergeben { $when }; niemand hat sie bestätigt
exchange-kept-coach = beim Trainer, bestätigt { $when }
exchange-kept-device = auf einem anderen Gerät des Kaders, bestätigt { $when }
exchange-kept-elsewhere = auf einem anderen Gerät des Kaders, das es geschrieben hat
exchange-clash = Verschieden aufgeschrieben: { $what }
exchange-clash-note = Beides bleibt, bis eines gewählt ist. Bis dahin zählt das erste. Was nicht gewählt wird, bleibt im Protokoll.
exchange-clash-coach = Hier wählt der Trainer.
exchange-clash-member = Hier wählt die Person selbst, auf einem eigenen Gerät.
exchange-keep = „{ $value }“ behalten
exchange-devices = Andere Geräte des Kaders
exchange-before = Bevor du dieses Telefon löschst oder wechselst
exchange-lost-sets = { $n ->
    [one] 1 Satz ist auf diesem Telefon, und kein anderes Gerät hat ihn bestätigt.
   *[other] { $n } Sätze sind auf diesem Telefon, und kein anderes Gerät hat sie bestätigt.
}
exchange-lost-others = { $n ->
    [one] Ebenso 1 anderer Eintrag: eine Einheit, eine Bewertung, Zeiten aus einem Clip oder Ähnliches.
   *[other] Ebenso { $n } andere Einträge: Einheiten, Bewertungen, Zeiten aus Clips und Ähnliches.
}
exchange-lost-entries = { $n ->
    [one] 1 Eintrag ist nur auf diesem Telefon: eine Einheit, eine Bewertung, Zeiten aus einem Clip oder Ähnliches. Kein anderes Gerät hat ihn bestätigt.
   *[other] { $n } Einträge sind nur auf diesem Telefon: Einheiten, Bewertungen, Zeiten aus Clips und Ähnliches. Kein anderes Gerät hat sie bestätigt.
}
exchange-lost-private = { $n ->
    [one] 1 Eintrag dazu, wie es dir ging, ist privat und auf keinem anderen Gerät. Er geht nur zum Trainer, solange du ihn freigibst.
   *[other] { $n } Einträge dazu, wie es dir ging, sind privat und auf keinem anderen Gerät. Sie gehen nur zum Trainer, solange du sie freigibst.
}
exchange-lost-nothing = Alles, was hier aufgeschrieben ist, ist auch auf einem anderen Gerät.
exchange-nothing-logged = Auf diesem Telefon ist noch nichts aufgeschrieben.
exchange-before-erase = Wenn du das Telefon löschst, verlierst oder die App davon entfernst, ist das weg: Die Sicherung des Telefons lässt es aus. Gleiche vorher ab und sieh diesen Bildschirm noch einmal an.
exchange-before-change = Ein neues Telefon ist ein neues Gerät: Der Trainer lädt es für dich ein, und es bekommt zurück, was der Trainer hat.
exchange-before-alone = Solange dieses Telefon in keinem Kader ist, gibt es das, was hier steht, nirgends sonst.
exchange-receivers = Für welches Gerät?
exchange-receivers-note = Nur dieses Gerät kann die Datei lesen, wie auch immer sie reist. Sie gilt als nicht bestätigt, bis die beiden abgeglichen haben oder eine Datei zurückkam.
exchange-no-receivers = Dieses Telefon kennt noch kein anderes Gerät des Kaders.
exchange-cancel = Abbrechen
exchange-close = Fertig
exchange-share = Die Datei weitergeben
end-synced = Abgeglichen.
end-joined = Dieses Telefon ist jetzt im Kader.
end-received = { $n ->
    [0] Hier war nichts neu.
    [one] 1 Eintrag kam an.
   *[other] { $n } Einträge kamen an.
}
end-sent = { $n ->
    [0] Nichts musste hinaus.
    [one] 1 Eintrag ging hinaus.
   *[other] { $n } Einträge gingen hinaus.
}
end-called-off = Abgebrochen. Was bis dahin ankam, bleibt.
end-called-off-file = Abgebrochen. Es wurde keine Datei geschrieben.
end-nobody = Es gibt noch kein Gerät zum Abgleichen. Antworte zuerst auf eine Einladung des Trainers.
end-not-reached = Das Gerät des Trainers wurde nicht erreicht. Beide müssen im selben Netz sein, und das Programm des Trainers muss dafür geöffnet sein.
end-tried = Versucht bei { $addresses }.
end-busy = Das andere Gerät ist beschäftigt. Versuch es gleich noch einmal.
end-other-device = Dort antwortet ein anderes Gerät, und ihm wurde nichts gesendet. Hat der Trainer ein neues, bitte um eine Einladung.
end-refused = Die beiden haben sich nicht verstanden, und was nicht zusammenpasste, wurde zur Seite gelegt. Was davor kam, bleibt.
end-broken = Die Verbindung brach ab. Was bis dahin ankam, bleibt; der nächste Abgleich geht dort weiter.
end-protocol = Die beiden Apps sind zu verschieden alt. Eine von ihnen braucht eine neuere Fassung.
end-other-squad = Das andere Gerät gehört zu einem anderen Kader.
end-not-admitted = Dieses Telefon ist nicht im Kader zugelassen. Bitte den Trainer um eine Einladung.
end-invitation-used = Die Einladung ist nicht bekannt oder schon benutzt. Bitte den Trainer um eine neue.
end-invitation-over = Die Einladung ist abgelaufen: Jede gilt nach der Uhr des Trainers ein paar Minuten. Bitte um eine neue.
end-not-owner = Wer eingeladen hat, darf niemanden mehr aufnehmen. Bitte jemanden vom Trainerteam um eine Einladung.
end-their-book = Das andere Gerät konnte nicht schreiben. Was hier ist, bleibt; versuch es später noch einmal.
end-no-invitation = Das ist keine Einladung. Sie beginnt mit PITSIDE1: und ist so lang, wie der Bildschirm des Trainers sie zeigt.
end-garbled = Die Einladung ist nicht vollständig oder wurde unterwegs verändert. Kopiere sie noch einmal vom ersten bis zum letzten Buchstaben.
end-has-squad = Dieses Telefon gehört zu einem anderen Kader. Ein Telefon ist in einem Kader.
end-demo = Die Einladung ist vom erfundenen Kader der Vorführung. Ein Telefon, das dir gehört, mischt sich nicht damit.
end-full = Der Speicher dieses Telefons ist voll. Was vorher gesichert war, bleibt; mach Platz und versuch es noch einmal.
end-book = Das Buch dieses Telefons konnte nicht gelesen oder geschrieben werden. Durch den Versuch ging nichts verloren.
end-handed-over = { $n ->
    [one] Eine Datei für „{ $whose }“ ist geschrieben: 1 Eintrag.
   *[other] Eine Datei für „{ $whose }“ ist geschrieben: { $entries } Einträge.
}
end-exported = Die Datei mit allen Daten ist geschrieben.
end-nobodys-data = Dieses Telefon führt niemanden, also gibt es keine Daten zum Weitergeben.
end-not-confirmed = Gib sie weiter, wie du willst. Nur dieses Gerät kann sie lesen. Sie gilt als nicht bestätigt, bis die beiden abgeglichen haben oder eine Datei zurückkam.
end-taken-in = { $n ->
    [0] Die Datei ist von „{ $whose }“. Alles daraus war schon hier.
    [one] Die Datei ist von „{ $whose }“. 1 Eintrag war hier neu.
   *[other] Die Datei ist von „{ $whose }“. { $entries } Einträge waren hier neu.
}
end-no-receiver = Für dieses Gerät lässt sich keine Datei schreiben: Es ist nicht im Kader zugelassen.
end-not-written = Die Datei ließ sich nicht schreiben. Ist auf dem Telefon noch Platz?
end-not-a-file = Das ist keine Datei dieser App.
end-other-receiver = Die Datei ist für ein anderes Gerät, und nur dieses kann sie lesen.
end-file-not-read = Die Datei ließ sich nicht lesen.
end-file-damaged = Die Datei ist beschädigt. Was vor dem Schaden kam, wurde aufgenommen; bitte noch einmal um die Datei.
job-channel = Abgleich und Dateien
job-title = Abgleich mit dem Kader
job-looking = Das andere Gerät wird gesucht …
job-moved = { $moved } von { $of } Einträgen
job-export-begins = Daten werden gesammelt …
job-export = Daten werden gesammelt: { $moved } von { $of } Einträgen
job-clip = Der Clip wird gelesen: { $percent } %
job-calling-off = Es wird abgebrochen …
join-title = Einem Kader beitreten
join-about = Der Bildschirm des Trainers zeigt eine Einladung: ein Muster zum Scannen und dasselbe als Text.
join-once = Sie nimmt ein Telefon auf, einmal, ein paar Minuten lang. Wer sie hat, kann beitreten, also gib sie nicht weiter.
join-before = Was du bisher aufgeschrieben hast, geht mit. Was weh tut, bleibt privat, bis du es freigibst.
join-scan = Das Muster scannen
join-scanning = Halte das Telefon so, dass das ganze Muster im Bild ist.
join-stop-scanning = Die Kamera schließen
join-no-camera = Diese App darf die Kamera nicht benutzen. Füge den Text ein, oder erlaube die Kamera in den Einstellungen des Systems.
join-text = Der Text der Einladung
join-paste = Einfügen
join-nothing-to-paste = Es gibt keinen Text zum Einfügen.
join-now = Beitreten
join-in-squad = Dieses Telefon ist schon in einem Kader. Eine Einladung desselben Kaders gibt ihm mehr, oder einen Weg zu einem neuen Rechner des Trainers.

## Der Verlauf

own-course-title = Verlauf
own-course-nobody = Dieses Telefon gehört zu niemandem im Kader, der trainiert. Alle stehen auf der Tafel des Kaders.
own-course-next = Abschnitte einer Saison gibt es hier noch nicht. Was über das Nächste bekannt ist: die Tests vor Sprüngen von höheren Kästen, und Kontaktzeiten gegen ihre Zielwerte.
own-course-no-targets = Niemand hat einen Zielwert für eine Kontaktzeit gesetzt.
own-course-no-takes = Noch ist kein Kontakt gemessen.
own-course-all = Alle Einheiten, Zeiten und Hinweise
condition-met = Erreicht
condition-not-met = Nicht erreicht
condition-not-known = Nicht getestet
condition-cannot-tell = Nicht zu sagen
condition-not-timed = Nicht gemessen
condition-timed = { $exercise }, { $day }: { $time }.
lane-tick = { $seconds } s
lane-legend = Balken: ein Fuß am Boden. Lücken: Flug. Ein Rand verblasst über seine Unsicherheit, 95 %.
lane-target = Der senkrechte Strich steht, wo ein Kontakt von der Länge seines Zielwerts enden würde.

## Über den Teilen der Seiten eines Telefons

heading-weeks = Die letzten Wochen
heading-hardest = Am härtesten
heading-all-weeks = Alle Wochen in Worten
heading-fold = Einklappen
heading-behind = Was dahinter steht
heading-today = Was heute dagegen spricht
heading-limits = Grenzen
heading-next = Vor dem Nächsten
heading-tests = Vor höheren Kästen
heading-targets = Zielwerte für Kontaktzeiten
heading-takes = Gemessene Kontakte
heading-sessions = Einheiten
heading-older = Ältere Einheiten
heading-other = Anderes Training
heading-hurts = Was weh tut
heading-clashes = Von zwei Personen verschieden geschrieben
heading-card = Was bekannt ist
heading-look-at = Zum Ansehen
heading-athletes = Athletinnen und Athleten
heading-order = Geordnet nach
heading-event = Neben
heading-search = Name
heading-contacts = Kontakte einer Wiederholung
heading-numbers = Zahlen, und worauf sie beruhen
heading-likeness = Wie ähnlich den Disziplinen
heading-cautions = Darauf achten
heading-source = Übliche Zeiten
heading-share = Freigeben
heading-stop-sharing = Freigabe beenden
heading-members = Mitglieder
heading-at-the-desk = Am Rechner des Trainers bekommt ein Gerät mehr, verlässt jemand den Kader und werden zwei Einträge einer Person verbunden.
heading-not-counted = Einträge, die warten oder nicht zählen
heading-refused = Abgelehnt und zur Seite gelegt
heading-earlier-plans = Die letzten vier Wochen
heading-not-reached = Was das nicht erreicht
heading-hold = Halte den Knopf, bis es getan ist.

## Einstellungen

settings-title = Einstellungen
setting-language = Sprache
setting-language-device = Wie das Telefon
setting-language-en = English
setting-language-de = Deutsch
setting-units = Maße
setting-units-device = Wie das Telefon
setting-units-metric = Meter, Zentimeter, Kilogramm
setting-units-ussystem = Fuß, Zoll, Pfund (ft, in, lb)
setting-units-about = Zeiten, Geschwindigkeiten und Energien stehen auch dann in Sekunden, m/s und J/kg da.
setting-contrast = Kontrast
setting-contrast-device = Wie das Telefon
setting-contrast-sun = Schwarz auf Weiß, für die Sonne
settings-private = Der Trainer sieht Training, Zeiten und Sprünge derer, für die dieses Telefon da ist. Was weh tut, sieht nur, für wen du es freigibst.
settings-export-about = Alles, was dieses Telefon über sie hat, als JSON-Datei, die andere Programme lesen können. Was weh tut, steht darin: Achte darauf, wem du sie gibst.
settings-export = Alle Daten weitergeben …
settings-erase-about = Bevor dieses Telefon in andere Hände kommt.
settings-erase = Hier alles löschen …
erase-here-title = Alles auf diesem Telefon löschen?
erase-here-all = Einheiten, Zeiten, Clips dieser App, was weh tut, und der Schlüssel dieses Geräts gehen sofort.
erase-here-only = { $n ->
    [one] 1 Satz ist nur auf diesem Gerät, von { $day }. Er ist dann verloren.
   *[other] { $n } Sätze sind nur auf diesem Gerät, der älteste von { $day }. Sie sind dann verloren.
}
erase-here-squad = Was die anderen Geräte des Kaders haben, bleibt dort. Soll es auch dort weg, bitte den Trainer darum.
erase-here-alone = Dieses Gerät ist in keinem Kader: Niemand sonst hat etwas davon.
erase-here-anew = Danach beginnt die App als neues Gerät. Um wieder im Kader zu sein, braucht es eine Einladung.
erase-here-files = Dateien, die weitergegeben oder übergeben wurden, und Clips in der Galerie des Telefons. Lösche sie selbst.
erase-here-yes = Alles löschen
erase-here-no = Nein, zurück zu den Einstellungen

## Wie Übungen heißen

named-a-skip = A-Skip (Kniehebehüpfer)
named-ankle-hops-low-one-leg = Fußgelenksprünge, flach, einbeinig
named-ankle-hops-low-two-legs = Fußgelenksprünge, flach, beidbeinig
named-ankle-run = Fußgelenklauf
named-b-skip = B-Skip (Kniehebehüpfer mit Ausgreifen)
named-backward-running-at-speed = Rückwärtslauf, schnell
named-bounds-from-a-stand = Sprunglauf aus dem Stand
named-bounds-from-a-stand-a-tenth-of-body-mass-worn = Sprunglauf aus dem Stand, mit einem Zehntel der Körpermasse als Weste
named-bounds-off-a-platform-from-a-stand = Sprunglauf von der Plattform, aus dem Stand
named-bounds-off-a-platform-with-a-run-in-on-it = Sprunglauf von der Plattform, mit Anlauf darauf
named-bounds-over-low-boxes-onto-each = Sprunglauf über niedrige Kästen, auf jeden
named-bounds-over-low-hurdles = Sprunglauf über niedrige Hürden
named-bounds-with-a-run-in = Sprunglauf mit Anlauf
named-box-jump = Kastenaufsprung
named-box-jump-landing-on-one-leg = Kastenaufsprung, Landung auf einem Bein
named-countermovement-jump-and-rebound = Sprung mit Ausholbewegung und Nachsprung
named-drop-from-tiptoe-into-a-held-squat = Fallen vom Zehenstand in die gehaltene Hocke
named-drop-jump = Tiefsprung
named-drop-jump-forward-one-leg = Tiefsprung nach vorn, einbeinig
named-drop-jump-forward-two-legs = Tiefsprung nach vorn, beidbeinig
named-drop-jump-from-20-cm = Tiefsprung aus 20 cm
named-drop-jump-from-40-cm = Tiefsprung aus 40 cm
named-drop-jump-from-40-cm-high = Tiefsprung aus 40 cm, hoch
named-drop-jump-from-40-cm-short = Tiefsprung aus 40 cm, kurz
named-drop-jump-from-60-cm = Tiefsprung aus 60 cm
named-drop-jump-from-80-cm = Tiefsprung aus 80 cm
named-drop-jump-into-three-rebounds = Tiefsprung mit drei Nachsprüngen
named-drop-jump-onto-a-second-box = Tiefsprung auf einen zweiten Kasten
named-drop-jump-over-a-hurdle = Tiefsprung über eine Hürde
named-drop-jump-no-cue-given = Tiefsprung ohne Vorgabe
named-drop-jump-one-leg = Tiefsprung, einbeinig
named-drop-landing-from-60-cm-held = Niedersprung aus 60 cm, gehalten
named-drop-landing-in-a-lunge-held = Niedersprung in den Ausfallschritt, gehalten
named-drop-landing-off-a-forward-leap-held = Niedersprung nach einem Satz nach vorn, gehalten
named-drop-landing-on-one-leg-held = Niedersprung auf ein Bein, gehalten
named-drop-landing-held = Niedersprung, gehalten
named-drop-landing-short-and-stiff = Niedersprung, kurz und fest
named-five-bounds-from-a-stand-into-the-sand = Fünfersprunglauf aus dem Stand in den Sand
named-gallop = Galopphüpfer
named-heel-flicks = Anfersen
named-high-hurdle-jumps-two-legs = Hohe Hürdensprünge, beidbeinig
named-high-knees = Kniehebelauf
named-hop-and-step-in-turn-from-a-stand = Hop und Step im Wechsel aus dem Stand
named-hop-and-step-into-the-sand = Hop und Step in den Sand
named-hop-forward-and-hold = Hop nach vorn und halten
named-hop-into-the-sand = Hop in den Sand
named-hop-hop-step-jump-from-a-stand = Hop, Hop, Step, Jump aus dem Stand
named-hop-hop-step-jump-with-a-run-in = Hop, Hop, Step, Jump mit Anlauf
named-hop-step-hop-step-jump-with-a-run-in = Hop, Step, Hop, Step, Jump mit Anlauf
named-hop-step-step-jump-from-a-stand = Hop, Step, Step, Jump aus dem Stand
named-hop-step-step-jump-with-a-run-in = Hop, Step, Step, Jump mit Anlauf
named-hops-across-a-line-travelling-one-leg = Hüpfer über eine Linie im Vorangehen, einbeinig
named-hops-off-a-platform-from-a-stand = Einbeinsprünge von der Plattform, aus dem Stand
named-hops-off-a-platform-with-a-run-in-on-it = Einbeinsprünge von der Plattform, mit Anlauf darauf
named-hurdle-hops-one-leg = Hürdensprünge, einbeinig
named-hurdle-jumps-with-a-bounce-between = Hürdensprünge mit Zwischenhüpfer
named-hurdle-jumps-with-a-stop-before-each = Hürdensprünge mit Halt vor jeder Hürde
named-hurdle-jumps-two-legs = Hürdensprünge, beidbeinig
named-jump-and-hold-two-legs = Springen und halten, beidbeinig
named-jump-from-a-seat-onto-a-box = Aus dem Sitz auf einen Kasten
named-jump-off-two-legs-and-hold-on-one = Beidbeinig abspringen, auf einem Bein halten
named-leap-to-the-other-leg-and-hold = Sprung auf das andere Bein und halten
named-line-hops-from-side-to-side-one-leg = Seitliche Hüpfer über eine Linie, einbeinig
named-line-hops-from-side-to-side-two-legs = Seitliche Hüpfer über eine Linie, beidbeinig
named-long-jump-from-four-strides = Weitsprung aus vier Anlaufschritten
named-long-jump-full-run-up = Weitsprung, voller Anlauf
named-long-jump-middle-run-up = Weitsprung, mittlerer Anlauf
named-long-jump-short-run-up = Weitsprung, kurzer Anlauf
named-low-hurdle-jumps-two-legs = Niedrige Hürdensprünge, beidbeinig
named-low-box-push-offs-from-side-to-side = Abdrücken vom niedrigen Kasten, von Seite zu Seite
named-low-box-push-offs-changing-legs = Abdrücken vom niedrigen Kasten, mit Beinwechsel
named-low-box-push-offs-same-leg = Abdrücken vom niedrigen Kasten, gleiches Bein
named-low-box-rebound-one-leg = Nachsprung vom niedrigen Kasten, einbeinig
named-low-box-rebound-two-legs = Nachsprung vom niedrigen Kasten, beidbeinig
named-one-leg-hops-from-a-stand = Einbeinsprünge aus dem Stand
named-one-leg-hops-over-low-hurdles-travelling = Einbeinsprünge über niedrige Hürden
named-one-leg-hops-with-a-run-in = Einbeinsprünge mit Anlauf
named-paused-jump-one-leg = Sprung aus dem Halt, einbeinig
named-paused-split-jump = Ausfallschrittsprung aus dem Halt
named-paused-squat-jump = Hocksprung aus dem Halt
named-paused-squat-jump-with-a-bar-a-quarter-of-body-mass = Hocksprung aus dem Halt mit Stange, ein Viertel der Körpermasse
named-paused-squat-jump-with-a-bar-half-of-body-mass = Hocksprung aus dem Halt mit Stange, halbe Körpermasse
named-paused-standing-long-jump = Standweitsprung aus dem Halt
named-pogo-travelling-forward-one-leg = Prellsprünge nach vorn, einbeinig
named-pogo-travelling-forward-two-legs = Prellsprünge nach vorn, beidbeinig
named-pogo-with-feet-changing-front-and-back = Prellsprünge mit Schrittwechsel
named-pogo-with-quarter-turns = Prellsprünge mit Vierteldrehungen
named-pogo-from-leg-to-leg = Prellsprünge von Bein zu Bein
named-pogo-one-leg = Prellsprünge, einbeinig
named-pogo-two-legs = Prellsprünge, beidbeinig
named-pogo-two-legs-a-tenth-of-body-mass-worn = Prellsprünge, beidbeinig, mit einem Zehntel der Körpermasse als Weste
named-quick-steps-from-side-to-side = Schnelle Seitschritte
named-rebound-jumps-one-leg = Serielle Sprünge am Ort, einbeinig
named-rebound-jumps-two-legs = Serielle Sprünge am Ort, beidbeinig
named-rebound-jumps-two-legs-a-tenth-of-body-mass-worn = Serielle Sprünge am Ort, beidbeinig, mit einem Zehntel der Körpermasse als Weste
named-repeated-jumps-from-a-deep-bend = Sprünge in Folge aus tiefer Beuge
named-repeated-jumps-from-a-deep-bend-with-a-bar-a-quarter-of-body-mass = Sprünge in Folge aus tiefer Beuge mit Stange, ein Viertel der Körpermasse
named-rope-jumping-one-leg = Seilspringen, einbeinig
named-rope-jumping-two-legs = Seilspringen, beidbeinig
named-run-up-without-the-jump = Anlauf ohne Sprung
named-side-shuffle = Seitlaufen
named-sideways-drop-jump-two-legs = Tiefsprung zur Seite, beidbeinig
named-sideways-hurdle-hops-one-leg = Seitliche Hürdensprünge, einbeinig
named-sideways-hurdle-jumps-two-legs = Seitliche Hürdensprünge, beidbeinig
named-sideways-leap-and-hold = Sprung zur Seite und halten
named-sideways-leaps-for-distance = Seitsprünge auf Weite
named-skater-hops = Seitsprünge von Bein zu Bein
named-skips-for-distance = Hopserlauf auf Weite
named-skips-for-height = Hopserlauf auf Höhe
named-sled-start-an-eighth-of-body-mass = Start mit Schlitten, ein Achtel der Körpermasse
named-speed-bounds = Sprunglauf auf Tempo
named-split-jumps-changing-legs = Wechselsprünge im Ausfallschritt
named-sprint-strides-at-speed = Sprintschritte in vollem Tempo
named-stair-jumps-two-legs = Treppensprünge, beidbeinig
named-standing-long-jump = Standweitsprung
named-standing-start = Hochstart
named-standing-start-uphill = Hochstart bergauf
named-standing-triple-jump = Dreisprung aus dem Stand
named-step-and-jump-off-a-platform-into-the-sand = Step und Jump von der Plattform in den Sand
named-step-and-jump-off-a-platform-with-a-run-in-on-it = Step und Jump von der Plattform, mit Anlauf darauf
named-step-step-jump-from-a-stand = Step, Step, Jump aus dem Stand
named-step-step-jump-with-a-run-in = Step, Step, Jump mit Anlauf
named-straight-leg-bounds = Sprunglauf mit gestreckten Beinen
named-strides-at-three-quarters-of-top-speed = Steigerungsläufe mit drei Vierteln des Höchsttempos
named-strides-over-marks = Schritte über Markierungen
named-take-off-from-a-low-box-into-the-sand = Absprung vom niedrigen Kasten in den Sand
named-take-off-out-of-a-walk = Absprung aus dem Gehen
named-take-off-out-of-one-step = Absprung aus einem Schritt
named-take-off-with-the-free-knee-held = Absprung mit gehaltenem Schwungbein
named-take-offs-every-few-strides = Absprünge nach je ein paar Schritten
named-three-bounds-and-hold = Drei Sprunglaufschritte und halten
named-three-hops-and-hold-one-leg = Drei Hops und halten, einbeinig
named-three-two-leg-long-jumps-in-a-row = Dreimal Schlusssprung auf Weite
named-triple-jump-from-four-strides = Dreisprung aus vier Anlaufschritten
named-triple-jump-full-run-up = Dreisprung, voller Anlauf
named-triple-jump-middle-run-up = Dreisprung, mittlerer Anlauf
named-triple-jump-short-run-up = Dreisprung, kurzer Anlauf
named-tuck-jumps = Hocksprünge mit Anhocken
named-two-hops-and-a-jump-into-the-sand-short-run-in = Zwei Hops und ein Sprung in den Sand, kurzer Anlauf
named-two-leg-forward-jumps-easy = Schlusssprünge nach vorn, locker
named-two-leg-hops-to-a-beat-2-2-a-second = Beidbeinige Hüpfer im Takt, 2,2 je Sekunde
named-zigzag-bounds = Sprunglauf im Zickzack

## Vorsicht

caution-fall = Hohe Intensität: Die Höhe des Kastens ist Energie, die die Beine abfangen müssen. Niedrig beginnen, auf festem, ebenem Boden und ausgeruht; höher nur, solange die Kontakte kurz und leise bleiben. Nichts für den Einstieg, und für Junge nur mit qualifizierter Anleitung. Bei Schmerz aufhören.
caution-event = Hohe Intensität: Ein Bein trifft im Tempo auf den Boden. Ganz aufwärmen, den Anlauf Stück für Stück verlängern, vorher Bahn, Brett und Sand prüfen, die Zahl klein halten. Für Junge mit qualifizierter Anleitung. Bei Schmerz aufhören.
caution-one-leg = Hohe Intensität: Jeder Kontakt einer schnellen Folge fällt auf ein Bein. Erst aus dem Stand beherrschen, dann den Anlauf um wenige Schritte verlängern; zwischen den Wiederholungen ganz ausruhen. Für Junge mit qualifizierter Anleitung. Bei Schmerz aufhören.
caution-young = Jung oder Alter nicht bekannt: zwei Sprungtage in der Woche, nicht hintereinander; Fortschritt nach Können, nicht nach Alter; mit Einverständnis der Erziehungsberechtigten und qualifizierter Anleitung. Örtliche Regeln gehen vor.
caution-pain = Neuer Schmerz, Hinken, Schwellung, Schmerz in der Nacht oder an einer einzelnen Knochenstelle: aufhören und von einer zugelassenen Fachperson ansehen lassen.

## Auf den Formularen eines Telefons

phone-exercise = Übung
phone-reps = Wiederholungen
phone-sets = Gleiche Sätze
phone-legs = Beine
phone-box = Höhe des Kastens
phone-strides = Anlaufschritte
phone-not-said = nicht gesagt
phone-less = Weniger
phone-more = Mehr
phone-save-set = Satz sichern
phone-save-check-in = Sichern
phone-back = Zurück
phone-hurting = Tut etwas weh?
phone-yes = Ja
phone-no = Nein
phone-where = Wo?
phone-side = Seite
phone-score = Wie sehr
phone-sleep = Geschlafen
phone-night = { $hours } h { $minutes } min
phone-failed = Das hat nicht geklappt.
phone-again = Noch einmal
phone-not-saved = Nicht gesichert
phone-let-it-go = Nicht mehr versuchen

## Zeichen, Tests, Regeln

sign-limp = Hinken
sign-bony-spot = Schmerz an einer einzelnen Knochenstelle
sign-night = Schmerz in der Nacht
sign-swelling = Schwellung
sign-giving-way = ein Gelenk knickt weg
sign-on-arching = der untere Rücken schmerzt beim Hohlkreuz
test-result = { $test }: { $value }, { $day }
test-squat = Kniebeuge, eine Wiederholung, ohne das eigene Gewicht
test-five-squats = Fünf Kniebeugen mit 60 % des Körpergewichts
test-one-leg-stand = Stand auf einem Bein
test-vertical-jump = Hochsprung aus dem Stand
test-standing-long-jump = Weitsprung aus dem Stand
test-standing-triple-jump = Dreisprung aus dem Stand
test-five-bounds = Fünf Laufsprünge aus dem Stand
test-flying-ten = Zehn Meter in vollem Tempo
test-sprint-30 = Dreißig Meter aus dem Stand
height = { $height } groß, { $day }
control = { $exercise }: { $how }, { $day }
control-held = Landung gehalten
control-corrected = Landung nach einem Schritt oder Schwanken gehalten
control-lost = Landung nicht gehalten
control-knee = das Knie ging nach innen
control-trunk = der Rumpf kippte oder drehte sich
advice = { $place }: bis { $score } von 10, { $from } bis { $until } ({ $note })
unit-percent = { $value } %
unit-weeks = { $n ->
    [one] 1 Woche
   *[other] { $n } Wochen
}
unit-days = { $n ->
    [one] 1 Tag
   *[other] { $n } Tage
}
unit-hours = { $n ->
    [one] 1 Stunde
   *[other] { $n } Stunden
}
unit-years = { $n ->
    [one] 1 Jahr
   *[other] { $n } Jahre
}
unit-energy = { $value } J/kg je Bein
unit-growth = { $value } im Jahr
unit-seconds = { $value } s
rule-week-contacts = Kontakte einer Art in einer Woche, vom Mittel der Wochen davor
rule-week-load = Trainingslast einer Woche, vom Mittel der Wochen davor
rule-hardest-contact = Härtester Kontakt einer Art, vom härtesten der Wochen davor
rule-first-exposure = Eine Übung oder ein Anlauf gilt als neu, wenn nicht gesehen seit
rule-hard-days = Zeit zwischen zwei harten Tagen
rule-gap = Eine Pause von der Sprungarbeit, ab
rule-hard-vertical-rebound = Ein vertikaler Prellsprung ist hart ab
rule-hard-horizontal-series = Ein Kontakt einer horizontalen Sprungfolge ist hart ab
rule-hard-held-landing = Eine gehaltene Landung ist hart ab
rule-hard-lateral = Ein seitlicher Kontakt ist hart ab
rule-hard-event-take-off = Ein Wettkampfabsprung ist hart ab
rule-hard-sprint = Ein Sprintschritt ist hart ab
rule-hard-paused-jump = Die Landung eines Einzelsprungs mit Pause ist hart ab
rule-session-beginner = Sprungkontakte einer Einheit, Einstieg
rule-session-intermediate = Sprungkontakte einer Einheit, fortgeschritten
rule-session-advanced = Sprungkontakte einer Einheit, weit fortgeschritten
rule-young-age = Unter diesem Alter, oder bei unbekanntem, gilt jemand als jung
rule-young-days = Tage mit Sprungarbeit in sieben Tagen, die Jungen
rule-young-contacts = Sprungkontakte einer Einheit, die Jungen
rule-guardian-consent = Unter diesem Alter, oder bei unbekanntem, wird nach dem Einverständnis der Erziehungsberechtigten gefragt
rule-first-box = Erste Kästen zum Herabspringen, bis
rule-heavy-mass = Über dieser Körpermasse sind Kästen zum Herabspringen begrenzt
rule-heavy-box = Kasten zum Herabspringen für Schwere, bis
rule-squat = Kniebeuge vor Tiefsprüngen, vom Körpergewicht
rule-five-squats = Fünf Kniebeugen mit 60 % des Körpergewichts vor Tiefsprüngen, in
rule-one-leg-stand = Stand auf einem Bein vor Tiefsprüngen
rule-growth = Wachstum fragt die Trainerseite, wenn schneller als
rules-off = aus
rules-written = { $name }: { $line }. { $reason }
rules-until = { $rule } (bis { $until })
grade-bound = Nicht angeboten
grade-stop = Aufhören
grade-ask = Trainer fragen
grade-caution = Beachten
against-leg-left = Sie hat einbeinige Kontakte links.
against-leg-right = Sie hat einbeinige Kontakte rechts.
against-run-in = Sie hat einen Anlauf.
against-box = Der Kasten ist { $found } hoch.
against-first-box = Ein Fall aus { $found }: Diese Übung wurde noch nie von einem Kasten gemacht.
against-higher-box = Ein Fall aus { $found }: Bei dieser Übung ist { $highest } bisher der höchste Kasten.
against-squat = Kniebeuge: { $found } des Körpergewichts, { $day }.
against-squat-unknown = Kniebeuge oder Körpermasse sind nicht bekannt.
against-five-squats = Fünf Kniebeugen mit 60 % des Körpergewichts: { $found }, { $day }.
against-five-squats-unknown = Wie lange fünf Kniebeugen mit 60 % des Körpergewichts dauern, ist nicht bekannt.
against-stand = Stand auf einem Bein, { $side }: { $found }, { $day }.
against-stand-unknown = Stand auf einem Bein, { $side }: nicht bekannt.
against-side-left = links
against-side-right = rechts
against-side-either = links und rechts
against-heavy = Ein Fall aus { $found }, bei hoher Körpermasse.
against-heavy-unknown = Ein Fall von einem hohen Kasten; die Körpermasse ist nicht bekannt.
against-contacts = Mit diesem Satz: { $found } heute.
against-young-contacts = Jung oder Alter nicht bekannt. Mit diesem Satz: { $found } heute.
against-young-days = Jung oder Alter nicht bekannt. Mit diesem: { $found } mit Sprungarbeit in sieben Tagen.
against-young-row = Jung oder Alter nicht bekannt. Auch gestern gab es Sprungarbeit.
against-landings-held = Landungen wurden zuletzt gehalten: Die Trainerseite kann das abwägen.
against-landings-open = Gehaltene Landungen kommen vor mehr.
against-consent = Jung oder Alter nicht bekannt: Kein Einverständnis der Erziehungsberechtigten ist aufgeschrieben.
against-growth = Wächst { $found }, von { $from } bis { $to }.
against-gap = Davor { $found } keine Sprungarbeit.
against-sign = Gesagt am { $day }: { $sign }.
against-sign-earlier = Gesagt am { $day } und seither nicht: { $sign }.
against-pain = { $place }: { $score } von 10 in den letzten sieben Tagen.
against-pain-rising = { $place }: { $score } von 10 in den letzten sieben Tagen, { $before } in den sieben Tagen davor.
against-pain-young = { $place }: { $score } von 10 in den letzten sieben Tagen. Bei Jungen oder unbekanntem Alter gilt kein Wert als hinnehmbar.
against-pain-new = { $place }: { $score } von 10 in den letzten sieben Tagen, nichts davon in den sieben Tagen davor.
against-by-limit = Eine Grenze: { $limit }.
against-by-rule = Die Linie — { $rule }: { $line }.
against-by-pain = Bei Schmerz über { $line } von 10 hört das Training auf; bis dahin geht es nur so weiter, wie es ärztlich oder therapeutisch geraten wurde.
against-apart = Sieh zuerst auf der Seite der Person selbst nach, nicht vor den anderen.
against-by-sign = Das gehört bei jedem Schmerzwert angesehen.
against-by-advice = Ärztlich oder therapeutisch geraten: bis { $score } von 10, und es beruhigt sich bis zum nächsten Morgen.
against-source = Aus: { $source }.
drawn-product = Kommt mit dem Produkt: { $source }.
drawn-squad = Die eigene Linie des Kaders: { $reason }.
drawn-athlete = Eine Linie für diese Person: { $reason }.
may-keep = Etwas anderes machen. Nur wer die Grenze gesetzt hat, hebt sie auf.
may-lower = Niedriger beginnen und Schritt für Schritt höher gehen, solange die Kontakte kurz und leise bleiben. Höher entscheidet die Trainerseite.
may-test = Testen oder aufschreiben, was getestet wurde; bis dahin bei niedrigen Kästen bleiben. Niedrige Prellsprünge bleiben offen.
may-train = Bei niedrigen Kästen bleiben, bis die Linie erreicht ist. Niedrige Prellsprünge bleiben offen.
may-fewer = Weniger Kontakte machen oder den Rest auf einen anderen Tag lassen.
may-day = Einen anderen Tag nehmen.
may-guardian = Erziehungsberechtigte fragen; der Trainer schreibt das Einverständnis am Laptop unter „Regeln“ als Ausnahme mit Grund auf. Örtliche Regeln gehen vor.
may-measure = Die Trainerseite fragen: Kontakte wenige und niedrig halten, solange das Wachstum schnell ist, und wieder messen.
may-begin = Unter dem beginnen, was vor der Pause gemacht wurde.
may-end = Sagen, oder fragen, wo und auf welcher Seite es weh tut; die Einheit darf hier enden.
may-refer = Aufhören und von einer zugelassenen Fachperson ansehen lassen. Das ist keine Diagnose; örtliche Regeln gehen vor.
may-seen = Fragen, ob eine zugelassene Fachperson es angesehen hat, bevor etwas angeboten wird.
may-advised = Weiter wie geraten. Aufhören, wo es steigt oder sich bis zum nächsten Morgen nicht beruhigt hat.
log-set-bound = Was nicht angeboten wird, kann trotzdem aufgeschrieben werden, wenn es gemacht wurde: Nichts geht verloren, und die Trainerseite sieht es neben der Grenze.
rules-title = Regeln des Kaders
rules-title-of = Regeln, die für { $name } gelten
rules-about = Eine Regel zeigt der Trainerseite etwas. Keine sagt eine Verletzung voraus, und keine sagt, dass eine Last nicht schadet. Jede Linie kann anders gezogen werden oder gar nicht, aus einem Grund, der erhalten bleibt. Örtliche Regeln und zugelassene Fachpersonen gehen vor.
rules-about-member = Die eigene Linie einer Person geht vor der des Kaders, die des Kaders vor der des Produkts. Eine Ausnahme für eine Person steht hier mit ihrem Grund; auch das Einverständnis von Erziehungsberechtigten.
rules-who-may = Nur die eigenen Geräte des Trainers ändern Regeln.
rules-product = Kommt mit dem Produkt: { $line } ({ $source }).
rules-holds-until = Bis { $until }; dann, was davor galt.
rules-group-rises = Anstiege, Neues, harte Tage und Pausen
rules-group-hard = Was als harter Kontakt gilt
rules-group-session = Kontakte einer Einheit nach Stand
rules-group-young = Die Jungen und die unbekannten Alters
rules-group-depth = Herabspringen von einem Kasten
in-percent = %
in-weeks = Wochen
in-days = Tage
in-hours = Stunden
in-energy = J/kg je Bein
in-contacts = Kontakte
in-years = Jahre
in-cm = cm
in-growth = cm im Jahr
in-kg = kg
in-seconds = s
body-title = Tests und Grenzen: { $name }
body-about = Was nicht bekannt ist, fragt vor Tiefsprüngen die Trainerseite; es wird nie als der bessere Wert genommen. Niedrige Prellsprünge hält kein Test auf.
body-growth = Wächst { $rate } im Jahr, von { $from } bis { $to }.
body-growth-unknown = Wie schnell jemand wächst, sagen zwei Körpergrößen, die 60 Tage oder mehr auseinanderliegen.
body-advice-about = Jeder neue Schmerz fragt nach Ort und Seite und bietet an, die Einheit zu beenden. Mit ärztlichem oder therapeutischem Rat für diesen Ort und diese Seite darf eine erwachsene Person bis zum geratenen Wert weitermachen. Ein Rat zählt nie unter 18 oder bei unbekanntem Alter und nie bei Hinken, Schmerz an einer einzelnen Knochenstelle oder in der Nacht, Schwellung, Wegknicken, einem unteren Rücken, der beim Hohlkreuz schmerzt, oder Schmerz, der von Woche zu Woche steigt.
body-today-none = Nichts, was hier bekannt ist, spricht heute gegen Sprungarbeit. Örtliche Regeln gehen vor.
body-depth-none = Die Tests vor dem Herabspringen von höheren Kästen sind aufgeschrieben und erreichen ihre Linien.
body-over = vorbei oder noch nicht
body-who-may = Nur die eigenen Geräte des Trainers, und die, denen es gegeben wurde, schreiben Grenzen und Rat.
link-body = Tests, Wachstum, Landungen, Grenzen und Rat
link-rules = Regeln, die für diese Person gelten
notice-sign-saw = Gesagt am { $day }: { $sign }.
notice-sign-rule = Das gehört bei jedem Schmerzwert angesehen: aufhören.
notice-sign-source = Eine eigene Regel; zugelassene Fachpersonen gehen vor.
notice-sign-do = Von einer zugelassenen Fachperson ansehen lassen. Das ist keine Diagnose; örtliche Regeln gehen vor.
link-jumps = Sprünge: Weiten, Brett, Ablaufmarke
check-in-signs = Gleich wie sehr es schmerzt. Stimmt eines davon: aufhören und von einer zugelassenen Fachperson ansehen lassen.
check-in-end = Du kannst die Einheit hier beenden, und es geht nichts dadurch verloren. Sag dem Trainer, wo es weh tut und auf welcher Seite.
asks-limp = Hinkst du?
asks-bony-spot = Tut eine einzelne Stelle eines Knochens weh, wenn du darauf drückst?
asks-night = Tut es in der Nacht weh?
asks-swelling = Ist etwas geschwollen?
asks-giving-way = Knickt ein Gelenk weg?
asks-on-arching = Tut der untere Rücken weh, wenn du ins Hohlkreuz gehst?

## Sätze, Einheiten und Gruppen auf dem Telefon

log-set-all = Andere Übung
log-set-find = Teil des Namens
log-set-no-load = Ohne die Last
log-set-warm-up = Übung beim Aufwärmen
again-as = { $n ->
    [one] Noch einmal wie am { $day }: 1 Satz, { $contacts }
   *[other] Noch einmal wie am { $day }: { $n } Sätze, { $contacts }
}
action-group = Für eine Gruppe aufschreiben
effort-ask = Wie anstrengend war es?
effort-ask-whom = Wie anstrengend war es für { $name }?
effort-ask-many = { $n ->
    [one] Wie anstrengend war es für 1 Person?
   *[other] Wie anstrengend war es für { $n } Personen?
}
effort-about = Die ganze Einheit, { $day }
effort-about-whom = { $name }: die ganze Einheit, { $day }
effort-asked = Gefragt wird etwa eine halbe Stunde nach dem Ende, damit die letzten Minuten nicht für das Ganze stehen (Foster et al. 2001).
effort-asked-later = Am besten etwa eine halbe Stunde nach dem Ende, ab { $at }, damit die letzten Minuten nicht für das Ganze stehen (Foster et al. 2001).
effort-word-0 = Ruhe
effort-word-1 = sehr, sehr leicht
effort-word-2 = leicht
effort-word-3 = mäßig
effort-word-4 = etwas anstrengend
effort-word-5 = anstrengend
effort-word-7 = sehr anstrengend
effort-word-10 = so anstrengend, wie es geht
effort-minutes = Minuten, mit Aufwärmen
effort-minutes-saved = Wie es aufgeschrieben wurde.
effort-minutes-sets = Vom ersten Satz um { $first } bis zum letzten um { $last }. Das Aufwärmen kommt dazu.
effort-minutes-none = Die Sätze sagen nicht, wie lange es war.
effort-save = Sichern
effort-change = Ändern, wie anstrengend es war
effort-remind = Eine halbe Stunde nach dem letzten Satz erinnern
effort-remind-about = Dieses Gerät zeigt die Frage dann als Mitteilung, ohne Namen und ohne das, was du gemacht hast. Auf der ersten Seite steht sie in jedem Fall.
session-no-sets = Noch kein Satz darin.
session-hold = Halte einen Satz, um ihn zu berichtigen oder zurückzunehmen.
session-conditions = Boden, Wetter, Schuhe
session-cut = Abgebrochen wegen …
session-cut-note = Diesen Grund sieht der Trainer. Was weh tut, bleibt bei dir, solange du es nicht freigibst.
session-cut-back-spoken = Doch nicht abgebrochen
session-clash-first = Zwei haben diese Einheit verschieden aufgeschrieben. Wähle zuerst zwischen beiden, beim Abgleich; wo du das nicht kannst, wählt der Trainer.
session-cut-back = Halten: doch nicht abgebrochen
session-who-may = Dieses Gerät liest diese Einheit und ändert sie nicht.
cut-pain = Schmerz
cut-tired = Müdigkeit
cut-weather = Wetter
cut-time = Zeit
cut-ground = Boden oder Gerät
cut-other = etwas anderem
label-wetness = Nässe
label-wind = Wind
label-warmth = Luft
wetness-dry = trocken
wetness-damp = feucht
wetness-wet = nass
wind-calm = windstill
wind-tail = Rückenwind
wind-head = Gegenwind
wind-cross = Seitenwind
wind-gusts = böig
warmth-cold = kalt, unter 5 °C
warmth-cool = kühl, 5 bis 14 °C
warmth-warm = warm, 15 bis 24 °C
warmth-hot = heiß, 25 °C und mehr
correct-title = Satz berichtigen
correct-save = Berichtigung sichern
correct-take-back-spoken = Diesen Satz zurücknehmen
correct-take-back = Halten: diesen Satz zurücknehmen
correct-hold = Ein zurückgenommener Satz zählt nicht mehr. Dass er da war, bleibt im Protokoll.
group-title-roll = Wer ist da?
group-title-exercise = Was machen sie?
group-title-names = Namen antippen
group-about-roll = Einmal aufrufen; es gilt für heute.
group-about-exercise = Einmal wählen. Danach schreibt jedes Antippen eines Namens einen Satz.
group-about-names = Einmal antippen ist ein Satz. Halte einen Namen, um den letzten Satz zurückzunehmen.
group-everybody = Alle
group-who-may = Damit dieses Gerät auch für andere aufschreibt, gibt ihm die Trainerseite weitere Athleten: auf ihrer Seite unter Geräte.
group-name-first = Dein Name
group-name-another = Noch jemand ohne Telefon
group-name-about = Wer dieses Telefon in der Hand hat, sieht, was darauf über jeden von euch steht, auch was weh tut.
group-name-save = Diesen Namen dazunehmen
group-on-roll = { $n ->
    [one] Weiter mit 1 Person
   *[other] Weiter mit { $n } Personen
}
group-on-exercise = Weiter zu den Namen
group-to-exercise = Andere Übung
group-to-roll = Wer ist da
group-sets = { $n ->
    [0] noch kein Satz
    [one] 1 Satz
   *[other] { $n } Sätze
}
group-next = als Nächstes: { $leg }
group-undo = Den letzten Satz von { $name } zurücknehmen

## Sprünge

jumps-title = Sprünge: { $name }
jumps-write = Versuche aufschreiben
jumps-all = Alle Sprünge dieser Person
jumps-empty = Kein Versuch im Weit- oder Dreisprung ist aufgeschrieben.
jumps-competition = Wettkampf
jumps-training = Training
jumps-indoors = in der Halle
jumps-row-title = { $event }, Versuch { $n }
jumps-strides = { $n ->
    [one] Anlauf von 1 Schritt
   *[other] Anlauf von { $n } Schritten
}
jumps-run-up = Anlauf von { $distance }
jumps-run-up-unknown = Anlauf nicht aufgeschrieben
jumps-clash = Zwei Personen haben diesen Versuch verschieden aufgeschrieben; der neueste steht hier, bis es auf der Seite der Person entschieden ist.
jumps-take-missing = Sein Clip mit Zeiten ist nicht hier.
jumps-take-odd = Sein Clip mit Zeiten zeigt nicht die Kontakte dieser Disziplin.
jumps-record-allowed = der Wind erlaubt einen Rekord
jumps-record-indoors = in der Halle: Wind wird nicht gemessen
jumps-record-too-strong = kein Rekord: Wind über +2,0 m/s; die Weite zählt
jumps-record-not-by-rule = kein Rekord: Der Wind wurde nicht nach den Regeln gemessen
jumps-record-no-gauge = kein Rekord: Es gab keinen Windmesser
jumps-record-not-said = kein Rekord: Vom Wind ist nichts bekannt
jumps-effective = { $by } am Brett verschenkt, { $whole } von der Fußspitze bis zur Marke
jumps-effective-gain = { $by } über der Linie gewonnen, { $whole } von der Fußspitze bis zur Marke
jumps-effective-zone = { $whole }, von der Fußspitze gemessen
jumps-pit = Grube { $distance } von der Linie
jumps-phase = { $phase } { $length } ({ $share } %)
jumps-phase-completed = der { $phase } wurde nicht gemessen, er ist, was die anderen übrig lassen
jumps-phases-few = { $phases }; Anteile brauchen alle drei Phasen oder zwei davon und wo die Fußspitze war
jumps-phases-contradict = Die Phasen ergeben { $sum }, von der Fußspitze bis zur Marke sind es { $whole }: Eine davon wurde falsch abgelesen.
jumps-phases-of-sum = Anteile an der Summe der Phasen, da nicht bekannt ist, wo die Fußspitze war
jumps-class-hop = Hop-betont
jumps-class-jump = Jump-betont
jumps-class-balanced = ausgeglichen
jumps-class-step = der Step ist am längsten, dafür gibt es keine Klasse
jumps-class-near = nahe an einer anderen Klasse: Ein halber Zentimeter falsch abgelesen, und es wäre eine andere
jumps-contact = { $what } { $value }
jumps-speed-lost = { $hop } m/s über den Hop, { $step } m/s über den Step: { $lost } % verloren ± { $half }
jumps-speed-gained = { $hop } m/s über den Hop, { $step } m/s über den Step: { $lost } % gewonnen ± { $half }
jumps-count = { $n ->
    [one] 1 Versuch
   *[other] { $n } Versuche
}
jumps-fouls = { $n ->
    [0] keiner ungültig
    [one] 1 ungültig
   *[other] { $n } ungültig
}
jumps-best = Bester: { $distance }, { $day }.
jumps-best-records = Bester bei einem Wind, der einen Rekord erlaubt: { $distance }, { $day }.
jumps-best-records-none = Keiner bei einem Wind, von dem bekannt ist, dass er einen Rekord erlaubt.
jumps-best-effective = Längster von der Fußspitze bis zur Marke: { $distance }, { $day }.
jumps-course = Weiter als alle davor: { $bests }.
jumps-course-one = { $distance } am { $day }
jumps-mean = Mittel von { $n } gemessenen Versuchen: { $mean } ± { $half } (95 %, t nach Student); sie streuen um { $sd }.
jumps-over = { $over } von { $n } Fußspitzen über der Linie ({ $share } %).
jumps-bias-behind = Das Mittel liegt { $by } vor der Linie, ± { $half } (95 %).
jumps-bias-over = Das Mittel liegt { $by } über der Linie, ± { $half } (95 %).
jumps-spread = Die Fußspitzen streuen um { $sd } (Standardabweichung; 95 %: { $low } bis { $high }).
jumps-toes-few = { $n ->
    [0] Wo die Fußspitze war, ist nicht aufgeschrieben. Ab { $least } lassen sich Mittel, Streuung und ein Verschieben der Ablaufmarke sagen.
    [one] 1 Fußspitze ist aufgeschrieben. Ab { $least } lassen sich Mittel, Streuung und ein Verschieben der Ablaufmarke sagen.
   *[other] { $n } Fußspitzen sind aufgeschrieben. Ab { $least } lassen sich Mittel, Streuung und ein Verschieben der Ablaufmarke sagen.
}
jumps-without-start = { $n ->
    [one] 1 Versuch bleibt hier weg: Er hat eine Fußspitze, aber keine Ablaufmarke zum Vergleichen.
   *[other] { $n } Versuche bleiben hier weg: Sie haben eine Fußspitze, aber keine Ablaufmarke zum Vergleichen.
}
jumps-fouls-without-toe = { $n ->
    [one] 1 ungültiger bleibt hier weg: Niemand hat die Fußspitze abgelesen. Darum ist der Anteil über der Linie zu niedrig angegeben.
   *[other] { $n } ungültige bleiben hier weg: Niemand hat die Fußspitzen abgelesen. Darum ist der Anteil über der Linie zu niedrig angegeben.
}
jumps-move-back = { $by } zurück
jumps-move-forward = { $by } zur Grube hin
jumps-shift = Für { $share } % der Fußspitzen über der Linie { $aim } davor zielen: die Ablaufmarke { $move } verschieben.
jumps-shift-to = Das ist von { $from }, der letzten, auf { $to }.
jumps-shift-interval = Es könnte alles von { $low } bis { $high } sein (95 %).
jumps-shift-next = Mittel und Streuung kennt man nur aus diesen Fußspitzen: Nach dem Verschieben sind { $next } % der nächsten Fußspitzen über der Linie zu erwarten, nicht { $share } %.
jumps-shift-few = { $n ->
    [one] 1 Fußspitze ist wenig.
   *[other] { $n } Fußspitzen sind wenige, darum ist der Bereich breit. Die Marke um weniger verschieben und nach den nächsten Sprüngen wieder ansehen.
}
jumps-shift-holds = Das gilt, solange die Fußspitzen streuen wie bisher. Wer in den letzten Schritten nach dem Brett steuert, kann ein Verschieben wieder ausgleichen.
jumps-adds = { $n ->
    [one] Als Training: 1 Versuch ohne eigenen Satz, { $contacts } bei den Wettkampfabsprüngen; { $pit } Landung in der Grube, getrennt gezählt.
   *[other] Als Training: { $n } Versuche ohne eigenen Satz, { $contacts } bei den Wettkampfabsprüngen; { $pit } Landungen in der Grube, getrennt gezählt.
}
jumps-in-sets = { $n ->
    [one] 1 Versuch steht in einem Satz dieses Tages und wird nicht doppelt gezählt.
   *[other] { $n } Versuche stehen in Sätzen dieses Tages und werden nicht doppelt gezählt.
}
jumps-leg-assumed = Das Sprungbein steht nicht auf der Karte: Das linke steht dafür ein (von uns, ohne Quelle).
jumps-note-records = Ob ein Rekord möglich ist, sagen die Regeln des Ortes. Hier wird nur der Wind angesehen: nach den Regeln von World Athletics gemessen, bis +2,0 m/s, auf das Zehntel darüber. Darüber zählt die Weite trotzdem. Eine Messung, von der niemand gesagt hat, nach welcher Regel, gilt als eine nach den Regeln: von uns, ohne Quelle.
jumps-note-effective = Von der Fußspitze bis zur Marke: die amtliche Weite, die auf den Zentimeter abgerundet ist, und was am Brett verschenkt wurde.
jumps-note-mean = Ungültige haben keine Weite und bleiben aus dem Mittel weg. Verglichen werden Versuche nur aus demselben Anlauf und bei dem gewählten Wind; in der Halle gilt als windstill: von uns, ohne Quelle.
jumps-note-board = Jede Fußspitze zählt, auch über der Linie, so wie sie von der letzten Ablaufmarke aus gewesen wäre. Der Bereich des Verschiebens ist genau für Fußspitzen, die normal streuen (nichtzentrales t). Dass weniger als 10 Fußspitzen wenige sind, und 10 %, wo kein Anteil gewählt ist: von uns, ohne Quelle.
jumps-note-phases = Klassen nach Hay 1992: Hop- oder Jump-betont ab zwei Punkten über der nächsten Phase, sonst ausgeglichen. Sie beschreiben einen Sprung und schreiben keinen vor. Phasen dürfen die Strecke von der Fußspitze bis zur Marke um 4 cm verfehlen, bevor sie ihr widersprechen, und ein halber Zentimeter falsch abgelesen kann nahe an einer anderen Klasse sein: von uns, ohne Quelle.
jumps-note-speed = Tempoverlust: Länge der Phase durch die Zeit von Aufsetzen zu Aufsetzen, Hop gegen Step. Veröffentlichte Verluste zwischen den Flügen selbst meinen ein anderes Tempo. ± ist 95 %, höchstens.
jumps-note-training = Als Training ist ein Versuch eine Wiederholung der Disziplin aus dem nächstliegenden Anlauf des Katalogs; ein ungültiger zählt als gesprungen, ein nicht aufgeschriebener Anlauf als voller, und die ersten Versuche eines Tages als die Wiederholungen, die als Sätze aufgeschrieben wurden: von uns, ohne Quelle. Schritte des Anlaufs sind keine Kontakte.
jumps-wrong-fouls = Ein Anteil von 0,1 bis 50 Prozent.
jumps-wrong-wind = Meter je Sekunde von −15 bis 15, wie 1.3 oder −0.4.
jumps-wrong-wind-indoors = In der Halle wird kein Wind gemessen: leer lassen.
jumps-wrong-wind-gauge = Oben steht, dass es keinen Windmesser gibt: leer lassen oder das ändern.
jumps-wrong-event = Weitsprung oder Dreisprung wählen.
jumps-wrong-day = Ein Tag, wie 2026-11-25.
jumps-wrong-place = Höchstens 80 Zeichen.
jumps-wrong-choice = Eines von denen wählen, die angeboten werden.
jumps-wrong-pit = Meter von der Linie bis zur Grube, 0 bis 15.
jumps-wrong-distance = Meter wie 6.42, oder x für ungültig.
jumps-wrong-distance-long = Ein Weitsprung von 0.50 bis 10.00 m, oder x für ungültig.
jumps-wrong-distance-triple = Ein Dreisprung von 1.00 bis 20.00 m, oder x für ungültig.
jumps-wrong-toe = Zentimeter auf den Millimeter, wie −4 vor der Linie oder 1.5 darüber.
jumps-wrong-toe-over = Eine Fußspitze über der Linie ist ungültig. Vor der Linie hat sie ein Minus.
jumps-wrong-toe-far = Von −300 cm vor der Linie bis 100 cm darüber.
jumps-wrong-start = Meter vor der Linie, 1 bis 60.
jumps-wrong-run-up = 1 bis 30 Schritte, oder Meter mit m dahinter, wie 34.5 m.
jumps-wrong-attempt = Eine Zahl von 1 bis 99.
jumps-wrong-attempt-there = Versuch { $n } ist schon aufgeschrieben ({ $what }). Die nächste Zahl nehmen oder jenen ändern.
jumps-wrong-phase = Meter von 0.30 bis 10.00.
jumps-competition-title = Versuche aufschreiben
jumps-choose = wählen
gauge-not-said = nicht gesagt
gauge-from-mark = Windmesser, ab der Marke, die die Regeln nennen
gauge-from-start = Windmesser, ab dem Start eines kürzeren Anlaufs
gauge-otherwise = Windmesser, nicht nach den Regeln
gauge-no-gauge = kein Windmesser
line-not-said = nicht gesagt
line-plane = Brett mit Kamera oder Laser
line-indicator = Brett mit Einlage, die Abdrücke nimmt
line-by-eye = Brett oder Linie mit dem Auge beobachtet
line-zone = Absprungzone, von der Fußspitze an gemessen
jumps-changing = Den Versuch ändern: { $what }
jumps-hint-distance = Weite: was das Band zeigt; aufgeschrieben wird auf den Zentimeter darunter. Ungültig ist x.
jumps-hint-toe = Fußspitze zur Linie in Zentimetern: −4 ist davor, 1.5 darüber. Auch bei ungültigen ablesen, so gut es geht.
jumps-hint-marks = Ablaufmarke und Anlauf bleiben, wie sie waren, bis du sie änderst. Was nicht abgelesen wurde, bleibt leer.

## Übungen

exercises-title = Übungen
exercises-about = Was der Kader machen kann, nach Arten. Zahlen gelten für trainierte Erwachsene mit voller Anstrengung, ohne angegebenes Höchsttempo; als Schätzung bezeichnete sind von uns. Landungen werden nur innerhalb einer Art verglichen.
exercises-found = { $n ->
    [0] Keine Übung hat das in ihrem Namen.
    [one] 1 Übung
   *[other] { $n } Übungen
}
exercises-missing = { $n ->
    [one] Das Produkt hat 1 Übung, die dieser Kader nicht hat.
   *[other] Das Produkt hat { $n } Übungen, die dieser Kader nicht hat.
}
sort-name = Name
sort-landing = Landung des härtesten Kontakts, härteste zuerst
sort-push = Abdruck, härtester zuerst
sort-contact-time = Zeit am Boden, kürzeste zuerst
sort-like = Am nächsten an der Disziplin nach
part-contact = Zeit am Boden
part-one-leg = ein Bein
part-direction = Richtung
part-approach = Anlauftempo
part-joints = Beugung der Gelenke
part-pattern = Muster der Folge
like-long-jump = Weitsprung
like-triple-jump = Dreisprung
like-sprint = Sprint
like-contact = { $difference } s gegen den { $move }: { $own } s, { $ratio }-mal so lang
like-no-contact = sie verlässt den Boden nie
like-one-leg-yes = jeweils ein Bein, wie in der Disziplin
like-one-leg-no = nicht durchgehend auf einem Bein
like-direction = { $direction }; die Disziplin geht vorwärts
like-approach = { $own } m/s gegen { $event } m/s, { $difference } m/s
joints-straight = ein fast gestrecktes Bein, wie in der Disziplin
joints-bent = ein gebeugtes Knie, mehr als in der Disziplin
joints-from-stand = aus dem Stand oder Halt: Die Gelenke öffnen sich aus tiefer Beugung, anders als in der Disziplin
pattern-same = die Beine folgen einander wie in der Disziplin
pattern-part = ein Teil davon ist wie in der Disziplin
pattern-other = ein anderes
like-note = Teile nebeneinander; für Ähnlichkeit gibt es keine einzelne Zahl. Was als ähnlich gilt, ist eine eigene Übereinkunft.
exercise-landing = { $speed } m/s, { $energy } J/kg je Bein
exercise-push = { $mean } Körpergewichte je Bein
exercise-no-push = kein Abdruck: Nichts verlässt den Boden, oder ein Halt teilt den Kontakt
exercise-seconds = { $seconds } s
exercise-contact-label = Kontakt { $n }: { $what }, { $legs }
exercise-contact-again = Kontakte { $n } bis { $last }: { $what }, { $legs }
contact-legs-one = auf einem Bein
contact-legs-two = auf beiden Beinen
label-kind = Art
label-direction = Richtung
label-legs = Beine
label-entry = Erreicht
label-box-run-in = Anlauf auf oder zum Kasten
label-onto = Hinauf auf
label-over = Über
label-load = Zusatzlast
label-cue = Zeiten gelten für den Hinweis
label-knee = Knie
label-way = Landung
label-contacts = Kontakte je Wiederholung
label-loss = Tempoverlust je Kontakt
direction-up = auf und ab
direction-forward = vorwärts
direction-sideways = seitwärts
direction-backward = rückwärts
legs-one = eines
legs-two = beide
legs-alternate = im Wechsel
knee-stiff = fast gestreckt
knee-bent = gebeugt
way-rebound = sofort wieder weg
way-held = still gehalten
way-paused = ganzer Halt, dann der nächste Sprung
entry-standing = aus dem Stand
entry-walk-in = { $n ->
    [one] aus 1 Gehschritt
   *[other] aus { $n } Gehschritten
}
entry-level-flight = aus einem ebenen Flug von { $n } s
entry-box = von einem Kasten mit { $height }
entry-onto-box = auf einen Kasten, aus { $height } darüber
entry-run-in = { $n ->
    [one] aus einem Anlauf von 1 Schritt
   *[other] aus einem Anlauf von { $n } Schritten
}
entry-run-in-distance = aus einem Anlauf von { $distance }
approach-strides = { $n ->
    [one] 1 Schritt
   *[other] { $n } Schritte
}
load-share = { $n } % der Körpermasse
cue-both = kurz und hoch zugleich
share-percent = { $n } %
left-out-load = Zusatzlast verlängert Kontakte (um ein Fünftel bis die Hälfte bei Sprüngen mit Ausholbewegung und 25 bis 100 % der Körpermasse, Lake et al. 2021); die üblichen Zeiten sind ohne sie.
left-out-mass = Die Körpermasse ist nicht bekannt: Zahlen gelten für Körper und Last zusammen.
left-out-hard = Harter Boden: Der Aufprall ist härter als auf der Bahn, und keine Zahl hier zeigt es.
left-out-soft = Auf Sand, Rasen oder Matte werden Kontakte länger als diese Zeiten.
left-out-knee = Bei fast gestrecktem Knie arbeitet die Sehne am Sprunggelenk härter als bei gebeugtem; keine Zahl hier zeigt es.
number-u = Standardunsicherheit { $u }
number-u-without = Standardunsicherheit { $u } aus dem Rest; keine ist bekannt von: { $list }
number-u-unknown = keine Unsicherheit bekannt
origin-measured = gemessen
origin-stated = wie angegeben
origin-default = { $support }: { $source }
origin-above = aus den Zahlen darüber
origin-usual = wie es die Übung sagt
origin-counted = gezählt
like-heading = { $part }, neben der Disziplin { $event }
unit-second = { $n } s
unit-metre = { $n } m
unit-metre-per-second = { $n } m/s
unit-degree = { $n }°
unit-per-second = { $n } je Sekunde
unit-one = { $n }
unit-joule-per-kilogram = { $n } J/kg
unit-body-weight = { $n } Körpergewichte
unit-system-weight = { $n } Gewichte von Körper und Last
exercise-copied = eine eigene des Kaders; eine Schätzung, abgeschrieben von { $name }
exercise-new-title = Eine neue Übung, nach { $name }
exercise-edit-title = { $name } ändern
after-flight = ein Flug zum nächsten Kontakt
after-pit = ein Flug in den Sand
after-stand = ein Stand: Die Bewegung endet
speed-fixed = m/s, für alle gleich
speed-approach = aus dem Anlauf, nicht über m/s
speed-top-share = % des Höchsttempos
choice-standing = aus dem Stand
choice-walk-in = aus dem Gehen (Schritte)
choice-level-flight = aus einem ebenen Flug (ms)
choice-box = von einem Kasten oder Podest (cm)
choice-onto-box = auf einen Kasten, fallend von darüber (cm)
choice-run-in = aus einem Anlauf (Schritte)
choice-run-in-metres = aus einem Anlauf (m)
contact-legs-same = ein Bein, wieder dasselbe
contact-legs-other = ein Bein, das andere
what-contact = Zeit am Boden
what-flight-before = Flug davor
what-flight-after = Flug danach
what-fall = Fall
what-rise-before = Anstieg des Bodens bis hierher
what-rise-after = Anstieg des Bodens zum nächsten Kontakt
what-angle = Winkel des Beins zum Boden
what-legs = Beine
what-top-speed = Höchsttempo
what-tau = Zeitkonstante der Beschleunigung
what-strides = Schritte des Anlaufs
what-stride-rate = Schritte je Sekunde
what-stride = Länge eines Schritts
what-run-in = Länge des Anlaufs
what-last-ten = Zeit über die letzten 10 m
what-top-share = Anteil am Höchsttempo
what-kept = Anteil des Tempos, der hier bleibt
what-lost = Anteil des Tempos, der hier verloren geht
what-run-in-speed = Tempo am Ende des Anlaufs
what-speed = Fortbewegungstempo beim Aufsetzen
what-speed-after = Fortbewegungstempo danach
what-down-speed = Tempo abwärts beim Aufsetzen
what-up-speed = Tempo aufwärts beim Abheben
what-load-share = Zusatzlast als Anteil der Körpermasse
what-closing-speed = Annäherungstempo entlang des Beins
what-energy = Energie, die jedes Bein aufnimmt
what-mean-force = mittlere Kraft auf jedes Bein
what-peak-force = Kraftspitze aus Zeiten
what-height = Höhe des Flugs
what-reactive-strength = Reaktivkraft

## Where a phone can be

place-today = Heute
place-times = Zeiten
place-course = Verlauf
place-exchange = Abgleich
place-more = Mehr
more-group = Für eine Gruppe aufschreiben
more-squad = Die Gruppe
more-exercises = Übungen
more-settings = Einstellungen

## Geplante Einheiten

link-plans = Geplante Einheiten
plan-progress = { $sets ->
    [one] { $done } von 1 Satz gemacht
   *[other] { $done } von { $sets } Sätzen gemacht
}
plan-swaps = { $sets }, links und rechts von Satz zu Satz im Wechsel
plan-clash = Zwei Personen haben das verschieden geplant. Gezeigt wird das Neuere; auf der Seite der Person lässt sich eines davon behalten.
plan-rest = Pause { $time }
plan-rest-times = Pause { $n }-mal so lang wie der Satz: { $time }
plan-seconds = { $n } s
plan-minutes = { $time } min
plans-title = Geplante Einheiten von { $name }
plans-own = Geplante Einheiten
plans-about = Was geplant ist, steht nach dem nächsten Abgleich auf den eigenen Geräten und am Tag selbst auf der ersten Seite.
plans-none = Ab heute ist nichts geplant.
plan-coming = Geplant für { $day }: { $purpose }
plan-new-title = Eine Einheit planen
plan-change-title = Eine geplante Einheit von { $name } ändern
plan-about = Jede Person bekommt einen eigenen Plan, der sich für sich ändern lässt. Ein Satz, der anders gemacht wurde, wird so aufgeschrieben, wie er war; der Plan bleibt.
plan-caution = Ein Plan ist ein Angebot und keine Pflicht: Wer Schmerzen hat, krank ist oder schlecht geschlafen hat, macht weniger oder hört auf. Was eine Grenze ausschließt, lässt sich nicht planen, und was gegen einen Satz spricht, wird am Tag selbst noch einmal geprüft.
phone-done-as-planned = Wie geplant gemacht
phone-done-otherwise = Anders gemacht
phone-save-otherwise = So sichern, wie es war
phone-hold-to-take-back = Halten, um den letzten Satz zurückzunehmen
phone-hold-to-unlock = Zum Entsperren halten
phone-unlock = Entsperren
phone-take-back = Den letzten Satz zurücknehmen
phone-lock = Bildschirm gegen Regen sperren
phone-rest = Pause
phone-rest-over = Die Pause ist vorbei.
phone-next = Als Nächstes

## Wie die mitgelieferten Übungen gemacht werden

about-a-skip = Vorwärts hüpfen, den Oberschenkel bis zur Waagerechten; Hinweis: der Fuß kommt gerade unter die Hüfte.
about-ankle-hops-low-one-leg = Auf einem Fuß federn und den Boden kaum verlassen; Hinweis: groß bleiben, der freie Fuß neben dem Knöchel.
about-ankle-hops-low-two-legs = Nur aus den Fußgelenken eine Handbreit hoch federn; Hinweis: Knie ruhig, Zehen vor der Landung anziehen.
about-ankle-run = Mit winzigen Laufschritten über die Fußgelenke abrollen; Hinweis: über den anderen Knöchel steigen.
about-b-skip = Vorwärts hüpfen, Oberschenkel waagerecht, den Unterschenkel ausschwingen lassen und den Fuß zurückholen; Hinweis: nach unten hinten ziehen, vorn nicht stehen bleiben.
about-backward-running-at-speed = Auf freier Bahn so schnell wie möglich rückwärts laufen; Hinweis: weit nach hinten greifen, Blick geradeaus.
about-bounds-from-a-stand = Aus dem Stand von Bein zu Bein springen und dabei schneller werden; Hinweis: den Boden nach hinten wegdrücken.
about-bounds-from-a-stand-a-tenth-of-body-mass-worn = Sprunglauf aus dem Stand mit einer Weste von etwa einem Zehntel der Körpermasse; Hinweis: so weit es geht, ohne einzusitzen.
about-bounds-off-a-platform-from-a-stand = Sich von einer niedrigen Plattform fallen lassen und von Bein zu Bein weiterspringen; Hinweis: der erste Sprung geht nach vorn, nicht nach oben.
about-bounds-off-a-platform-with-a-run-in-on-it = Sechs Schritte auf einer niedrigen Plattform anlaufen und am Boden im Sprunglauf weiter; Hinweis: das Tempo mitnehmen.
about-bounds-over-low-boxes-onto-each = Von Bein zu Bein über eine Reihe niedriger Kästen, ein Kontakt auf jedem und einer dazwischen; Hinweis: draufsteigen, davon abdrücken.
about-bounds-over-low-hurdles = Aus kurzem Anlauf im Sprunglauf über eine Reihe niedriger Hürden, einen Sprung auseinander; Hinweis: mit dem Knie drüber, nicht mit dem Rücken.
about-bounds-with-a-run-in = Sprunglauf auf Weite aus kurzem Anlauf; Hinweis: flacher Fuß, die Hüfte läuft darüber weiter.
about-box-jump = Auf einen Kasten springen, aufrichten, heruntersteigen; Hinweis: so hoch landen, wie du abgesprungen bist.
about-box-jump-landing-on-one-leg = Auf einen niedrigen Kasten springen, auf einem Bein landen und halten, heruntersteigen; Hinweis: weiches Knie, ruhiger Fuß.
about-countermovement-jump-and-rebound = So hoch wie möglich springen, aus der Landung sofort noch einmal, dann stehen; Hinweis: der zweite Sprung so hoch wie der erste.
about-drop-from-tiptoe-into-a-held-squat = Hoch auf den Zehen stehen, sich schnell in die halbe Hocke ziehen und halten; Hinweis: die Füße sind flach, bevor die Hüfte stoppt.
about-drop-jump = Sich vom Kasten fallen lassen, so hoch abspringen, wie ein kurzer Kontakt es zulässt, landen und stehen; Hinweis: erst kurz, dann hoch.
about-drop-jump-forward-one-leg = Sich von einem niedrigen Kasten auf ein Bein fallen lassen, mit ihm nach vorn springen und beidbeinig stehen; Hinweis: erst fest, dann weit.
about-drop-jump-forward-two-legs = Sich vom Kasten fallen lassen, so weit nach vorn springen, wie ein kurzer Kontakt es zulässt, und stehen; Hinweis: bei der Landung schon nach vorn lehnen.
about-drop-jump-from-20-cm = Sich von einem 20 cm hohen Kasten fallen lassen, aus kurzem Kontakt hoch abspringen, landen und stehen; Hinweis: erst kurz, dann hoch.
about-drop-jump-from-40-cm = Sich von einem 40 cm hohen Kasten fallen lassen, aus kurzem Kontakt hoch abspringen, landen und stehen; Hinweis: kurz und hoch zugleich.
about-drop-jump-from-40-cm-high = Sich von einem 40 cm hohen Kasten fallen lassen und sich am Boden die Zeit nehmen, die die Höhe braucht; Hinweis: so hoch, wie du kannst.
about-drop-jump-from-40-cm-short = Sich von einem 40 cm hohen Kasten fallen lassen und den Boden so schnell wie möglich verlassen, die Höhe ist egal; Hinweis: so kurz, wie du kannst.
about-drop-jump-from-60-cm = Sich von einem 60 cm hohen Kasten fallen lassen und aus kurzem Kontakt abspringen, landen und stehen; Hinweis: Spannung schon vor dem Aufsetzen.
about-drop-jump-from-80-cm = Sich von einem 80 cm hohen Kasten fallen lassen und abspringen, ohne dass die Fersen nachgeben, landen und stehen; Hinweis: niedrigerer Kasten, wenn die Fersen aufsetzen.
about-drop-jump-into-three-rebounds = Sich vom Kasten fallen lassen, abspringen und noch zweimal nachspringen, dann stehen; Hinweis: der letzte Kontakt so kurz wie der erste.
about-drop-jump-no-cue-given = Sich vom Kasten fallen lassen und auf die eigene Weise abspringen, landen und stehen; Hinweis: keiner, so zeigt sich die Gewohnheit.
about-drop-jump-one-leg = Sich von einem niedrigen Kasten auf ein Bein fallen lassen, mit ihm abspringen und beidbeinig stehen; Hinweis: kein Kasten über 30 cm.
about-drop-jump-onto-a-second-box = Sich vom Kasten fallen lassen, auf einen zweiten gleicher Höhe springen und stehen; Hinweis: oben so landen, wie du abgesprungen bist.
about-drop-jump-over-a-hurdle = Sich vom Kasten fallen lassen, über eine Hürde davor springen, landen und stehen; Hinweis: die Hürde wartet, der Boden nicht.
about-drop-landing-from-60-cm-held = Sich von einem 60 cm hohen Kasten fallen lassen und die Landung zwei Sekunden halten; Hinweis: mit Hüfte und Knien abfangen, Rücken lang.
about-drop-landing-held = Sich vom Kasten fallen lassen und die Landung zwei Sekunden halten; Hinweis: so landen, dass es niemand hört.
about-drop-landing-in-a-lunge-held = Sich von einem niedrigen Kasten fallen lassen und im Ausfallschritt landen; Hinweis: Gewicht auf beiden Füßen, Rumpf aufrecht.
about-drop-landing-off-a-forward-leap-held = Vom Kasten weit nach vorn springen und die Landung auf beiden Füßen halten; Hinweis: das Gesäß nach hinten, wie auf einen Stuhl.
about-drop-landing-on-one-leg-held = Sich von einem niedrigen Kasten fallen lassen und die Landung auf einem Bein halten; Hinweis: Knie über dem Fuß, Hüfte waagerecht.
about-drop-landing-short-and-stiff = Sich vom Kasten fallen lassen und auf fast gestreckten Beinen sofort stoppen; Hinweis: Spannung vor dem Aufsetzen.
about-five-bounds-from-a-stand-into-the-sand = Fünf Sprunglaufschritte aus dem Stand, den letzten in den Sand; Hinweis: jeder länger als der vorige.
about-gallop = Vorwärts galoppieren, immer derselbe Fuß vorn; Hinweis: das hintere Bein drückt, das vordere rollt ab.
about-heel-flicks = Auf dem Vorfuß laufen und die Ferse zum Gesäß klappen; Hinweis: das Knie geht nach vorn, wenn die Ferse hochkommt.
about-high-hurdle-jumps-two-legs = Mit angezogenen Knien über Hürden springen, die deutlich höher sind als die eigene Sprunghöhe; Hinweis: erst hoch, dann drüber.
about-high-knees = Auf dem Vorfuß laufen, Oberschenkel waagerecht, wenig Raumgewinn; Hinweis: Hüfte hoch, schnell zum Boden.
about-hop-and-step-in-turn-from-a-stand = Hop auf einem Bein, Step auf das andere, darauf der nächste Hop und so weiter; Hinweis: den Rhythmus laut mitsprechen.
about-hop-and-step-into-the-sand = Aus sechs Schritten Hop und Step, mit dem Step im Sand landen; Hinweis: den Step halten, Knie hoch.
about-hop-forward-and-hold = Auf einem Bein nach vorn springen und jede Landung zwei Sekunden halten; Hinweis: leiser Fuß, ruhiger Rumpf.
about-hop-hop-step-jump-from-a-stand = Aus dem Stand zwei Hops auf einem Bein, Step und Sprung in den Sand; Hinweis: der zweite Hop nicht höher als der erste.
about-hop-hop-step-jump-with-a-run-in = Aus sechs Schritten zwei Hops auf einem Bein, Step und Sprung in den Sand; Hinweis: den ersten Hop flach.
about-hop-into-the-sand = Aus sechs Schritten ein Hop vom Brett und auf demselben Bein im Sand landen; Hinweis: Ferse unter die Hüfte, dann greifen.
about-hop-step-hop-step-jump-with-a-run-in = Aus sechs Schritten Hop, Step, Hop auf dem anderen Bein, Step und Sprung in den Sand; Hinweis: der Rumpf bleibt die ganze Zeit aufrecht.
about-hop-step-step-jump-from-a-stand = Aus dem Stand Hop, zwei Steps und ein Sprung in den Sand; Hinweis: ein gleichmäßiger Rhythmus vom ersten bis zum letzten.
about-hop-step-step-jump-with-a-run-in = Aus sechs Schritten Hop, zwei Steps und ein Sprung in den Sand; Hinweis: zwischen den Kontakten groß bleiben.
about-hops-across-a-line-travelling-one-leg = Auf einem Bein vorwärts springen und bei jedem Sprung eine Linie kreuzen; Hinweis: mit der Hüfte lenken, nicht mit dem Knie.
about-hops-off-a-platform-from-a-stand = Sich von einer niedrigen Plattform auf ein Bein fallen lassen und auf ihm weiterspringen; Hinweis: mit festem Fuß zum Boden greifen.
about-hops-off-a-platform-with-a-run-in-on-it = Vier Schritte auf einer niedrigen Plattform anlaufen, auf einem Bein landen und weiterspringen; Hinweis: herunterlaufen, nicht herunterspringen.
about-hurdle-hops-one-leg = Auf einem Bein eine Reihe niedriger Hürden überspringen, mit einem Kontakt dazwischen; Hinweis: das Knie des freien Beins zuerst hoch und drüber.
about-hurdle-jumps-two-legs = Eine Reihe Hürden überspringen, mit einem Kontakt dazwischen; Hinweis: dem Boden entgegen, nicht auf ihn warten.
about-hurdle-jumps-with-a-bounce-between = Nach der Hürde landen, einmal prellen und über die nächste springen; Hinweis: der Zwischenhüpfer bleibt flach und schnell.
about-hurdle-jumps-with-a-stop-before-each = Nach der Hürde landen, zwei Sekunden in der halben Hocke halten und über die nächste springen; Hinweis: ganz still, dann los.
about-jump-and-hold-two-legs = Hochspringen und die Landung zwei Sekunden halten; Hinweis: Knie über den Zehen, Fersen am Boden.
about-jump-from-a-seat-onto-a-box = Ruhig auf einer Bank sitzen, Füße am Boden, auf einen Kasten springen und heruntersteigen; Hinweis: vorher nicht schaukeln.
about-jump-off-two-legs-and-hold-on-one = Beidbeinig hochspringen und die Landung auf einem Bein halten; Hinweis: die freie Hüfte sinkt nicht ab.
about-leap-to-the-other-leg-and-hold = Von einem Bein nach vorn springen und die Landung auf dem anderen halten; Hinweis: auf dem ganzen Fuß landen.
about-line-hops-from-side-to-side-one-leg = Auf einem Fuß über eine Linie hin und her hüpfen; Hinweis: das Knie bleibt hin und her über dem Fuß.
about-line-hops-from-side-to-side-two-legs = Beidbeinig über eine Linie hin und her hüpfen; Hinweis: knapp über die Linie, nur aus den Fußgelenken.
about-long-jump-from-four-strides = Aus vier Schritten in den Sand springen; Hinweis: der letzte Schritt flach und schnell.
about-long-jump-full-run-up = Mit dem Anlauf des Wettkampfs in den Sand springen; Hinweis: durchs Brett durchlaufen und dabei springen.
about-long-jump-middle-run-up = Aus etwa zwölf Schritten in den Sand springen; Hinweis: Tempo aufbauen, auf den letzten zwei Schritten groß bleiben.
about-long-jump-short-run-up = Aus ein paar Schritten in den Sand springen; Hinweis: groß und flach aufs Brett, dann hoch.
about-low-box-push-offs-changing-legs = Sich vom Fuß auf dem niedrigen Kasten hochdrücken und im Flug die Füße wechseln; Hinweis: gerade nach oben, Kopf über dem Kasten.
about-low-box-push-offs-from-side-to-side = Sich vom Fuß auf dem niedrigen Kasten hochdrücken und auf die andere Seite wechseln; Hinweis: erst hoch, dann hinüber.
about-low-box-push-offs-same-leg = Einen Fuß auf dem niedrigen Kasten lassen und sich immer wieder davon hochdrücken; Hinweis: der untere Fuß tippt nur auf.
about-low-box-rebound-one-leg = Sich von einem niedrigen Kasten auf einen Fuß fallen lassen, einmal prellen und beidbeinig stehen; Hinweis: Hüfte bei der Landung waagerecht.
about-low-box-rebound-two-legs = Sich von einem Kasten fallen lassen, der so hoch ist wie eine Hand lang, einmal aus den Fußgelenken prellen und stehen; Hinweis: Zehen im Fallen anziehen.
about-low-hurdle-jumps-two-legs = Aus den Fußgelenken über eine Reihe kniehoher Hürden springen; Hinweis: an jeder Hürde derselbe Rhythmus.
about-one-leg-hops-from-a-stand = Aus dem Stand auf einem Bein vorwärts springen; Hinweis: das freie Bein schwingt jedes Mal durch.
about-one-leg-hops-over-low-hurdles-travelling = Auf einem Bein über eine Reihe niedriger Hürden springen, die weit auseinander stehen; Hinweis: die Ferse geht unter der Hüfte durch.
about-one-leg-hops-with-a-run-in = Das Tempo eines Anlaufs durch eine Folge von Sprüngen auf einem Bein mitnehmen; Hinweis: den Fuß beim Aufsetzen zurückziehen.
about-paused-jump-one-leg = Zwei Sekunden auf einem gebeugten Bein halten, mit ihm hochspringen und darauf landen; Hinweis: nicht mehr einsinken, freies Bein ruhig.
about-paused-split-jump = Zwei Sekunden im Ausfallschritt halten, hochspringen und wieder so landen; Hinweis: über die vordere Ferse drücken.
about-paused-squat-jump = Zwei Sekunden in der halben Hocke halten, dann springen; Hinweis: vor dem Absprung nicht mehr einsinken.
about-paused-squat-jump-with-a-bar-a-quarter-of-body-mass = Zwei Sekunden mit leichter Stange in der halben Hocke halten, dann springen; Hinweis: die Stange vom Boden wegdrücken.
about-paused-squat-jump-with-a-bar-half-of-body-mass = Zwei Sekunden mit einer Stange von halber Körpermasse in der halben Hocke halten, dann springen; Hinweis: schnell, schon ganz unten.
about-paused-standing-long-jump = Zwei Sekunden in der halben Hocke halten, dann beidbeinig nach vorn springen; Hinweis: Arme und Beine beginnen zugleich.
about-pogo-from-leg-to-leg = Am Ort von einem Fuß auf den anderen prellen; Hinweis: unter der Hüfte landen, Rumpf ruhig.
about-pogo-one-leg = Am Ort auf einem Fuß prellen; Hinweis: Hüfte waagerecht, Ferse knapp über dem Boden.
about-pogo-travelling-forward-one-leg = Auf einem Fuß vorwärts prellen, je eine Fußlänge; Hinweis: auf dem ganzen Vorfuß landen, Hüfte darüber.
about-pogo-travelling-forward-two-legs = Beidbeinig aus den Fußgelenken vorwärts prellen, je eine Fußlänge; Hinweis: die Fußgelenke arbeiten, die Knie bleiben lang.
about-pogo-two-legs = Am Ort aus fast gestreckten Beinen prellen; Hinweis: schnelles Fußgelenk, als wäre der Boden heiß.
about-pogo-two-legs-a-tenth-of-body-mass-worn = Mit einer Weste von etwa einem Zehntel der Körpermasse aus den Fußgelenken prellen; Hinweis: so schnell wie ohne Weste.
about-pogo-with-feet-changing-front-and-back = Mit einem Fuß etwas weiter vorn prellen und im Flug wechseln; Hinweis: beide Füße setzen gleichzeitig auf.
about-pogo-with-quarter-turns = Beidbeinig prellen und in jedem Flug eine Vierteldrehung machen; Hinweis: aus der Hüfte drehen, gerade landen.
about-quick-steps-from-side-to-side = So schnell wie möglich von Fuß zu Fuß über eine Linie treten; Hinweis: schnelle Füße, ruhige Schultern.
about-rebound-jumps-one-leg = Auf einem Bein immer wieder auf Höhe springen; Hinweis: Schwungbein und beide Arme ziehen nach oben.
about-rebound-jumps-two-legs = Immer wieder auf Höhe springen, mit Armeinsatz und wenig Kniebeuge; Hinweis: hoch, und kurz am Boden.
about-rebound-jumps-two-legs-a-tenth-of-body-mass-worn = Mit einer Weste von etwa einem Zehntel der Körpermasse immer wieder auf Höhe springen; Hinweis: den Satz beenden, wenn die Kontakte lang werden.
about-repeated-jumps-from-a-deep-bend = Bei jeder Landung in die halbe Hocke gehen und ohne Halt wieder abspringen; Hinweis: unten weich umkehren.
about-repeated-jumps-from-a-deep-bend-with-a-bar-a-quarter-of-body-mass = Mit einer leichten Stange auf den Schultern ohne Halt in Folge springen; Hinweis: die Stange bleibt fest am Rücken.
about-rope-jumping-one-leg = Das Seil schwingen und auf einem Fuß darüberhüpfen; Hinweis: auf dem Fußballen bleiben.
about-rope-jumping-two-legs = Das Seil schwingen und beidbeinig darüberhüpfen; Hinweis: nur so hoch, wie das Seil dick ist.
about-run-up-without-the-jump = Den ganzen Anlauf am Brett vorbei laufen, ohne zu springen; Hinweis: dieselben Marken, derselbe Rhythmus.
about-side-shuffle = Mit schnellen, tiefen Schritten seitwärts laufen, ohne die Beine zu kreuzen; Hinweis: tief bleiben, mit dem hinteren Fuß drücken.
about-sideways-drop-jump-two-legs = Sich seitlich von einem niedrigen Kasten fallen lassen, nach oben abspringen und stehen; Hinweis: beide Füße zugleich aufsetzen.
about-sideways-hurdle-hops-one-leg = Auf einem Bein seitlich über eine Reihe sehr niedriger Hürden springen; Hinweis: unter der Hüfte landen.
about-sideways-hurdle-jumps-two-legs = Seitlich über eine Reihe niedriger Hürden springen, mit einem Kontakt dazwischen; Hinweis: die Hüfte geht mit den Füßen mit.
about-sideways-leap-and-hold = Von einem Bein zur Seite springen und die Landung auf dem anderen halten; Hinweis: das Knie bleibt über dem Fuß.
about-sideways-leaps-for-distance = Von einem Bein auf das andere so weit wie möglich zur Seite springen; Hinweis: landen, einsinken und denselben Weg zurück.
about-skater-hops = Von einem Bein auf das andere zur Seite springen; Hinweis: über die Innenkante des Fußes abdrücken.
about-skips-for-distance = Hopserlauf, bei jedem Abdruck so weit wie möglich; Hinweis: nach hinten abdrücken, dann schweben.
about-skips-for-height = Hopserlauf, bei jedem Abdruck so hoch wie möglich; Hinweis: Knie und Gegenarm gehen zusammen hoch.
about-sled-start-an-eighth-of-body-mass = Mit einem leichten Schlitten lossprinten; Hinweis: dieselben Schritte wie ohne.
about-speed-bounds = Mit langen, flachen Sprüngen und fast im Sprinttempo laufen; Hinweis: Raum gewinnen, nicht steigen.
about-split-jumps-changing-legs = Aus dem Ausfallschritt hochspringen und mit dem anderen Bein vorn landen; Hinweis: gerade nach unten, vordere Ferse am Boden.
about-sprint-strides-at-speed = Nach langer Steigerung im Höchsttempo laufen; Hinweis: den Fuß nach unten setzen, nicht nach vorn greifen.
about-stair-jumps-two-legs = Beidbeinig eine Treppe hochspringen, je zwei Stufen, und hinuntergehen; Hinweis: den ganzen Fuß auf die Stufe, Blick nach oben.
about-standing-long-jump = Ausholen, beidbeinig nach vorn springen und die Landung stehen; Hinweis: erst nach vorn fallen, dann abdrücken.
about-standing-start = Aus der Schrittstellung lossprinten; Hinweis: den Boden nach hinten drücken, Blick nach unten.
about-standing-start-uphill = An einem leichten Anstieg lossprinten; Hinweis: drücken, der Hang hebt die Knie.
about-standing-triple-jump = Aus dem Stand Hop, Step und Jump in den Sand; Hinweis: jeder länger als der vorige.
about-step-and-jump-off-a-platform-into-the-sand = Sich von einer niedrigen Plattform auf ein Bein fallen lassen, Step auf das andere und in den Sand springen; Hinweis: aktiver Fuß, Rumpf aufrecht darüber.
about-step-and-jump-off-a-platform-with-a-run-in-on-it = Sechs Schritte auf einer niedrigen Plattform anlaufen, auf dem Stepbein landen und mit dem anderen in den Sand springen; Hinweis: langer Step, dann hoch.
about-step-step-jump-from-a-stand = Aus dem Stand zwei lange Steps und ein Sprung in den Sand; Hinweis: den ganzen Fuß aufsetzen, dann darüber.
about-step-step-jump-with-a-run-in = Aus sechs Schritten zwei lange Steps und ein Sprung in den Sand; Hinweis: durch den ersten Step durchlaufen.
about-straight-leg-bounds = Mit langen Beinen vorwärts laufen, die Füße schwingen flach nach vorn; Hinweis: den Boden aus der Hüfte nach hinten ziehen.
about-strides-at-three-quarters-of-top-speed = Locker und aufrecht mit etwa drei Vierteln des Höchsttempos laufen; Hinweis: Gesicht locker, Hände locker.
about-strides-over-marks = Schnell über niedrige Markierungen im Abstand eines Schritts laufen; Hinweis: dazwischen aufsetzen, Knie darüber.
about-take-off-from-a-low-box-into-the-sand = Sechs Schritte anlaufen und von einem wenige Zentimeter hohen Kasten abspringen, für längere Flugzeit; Hinweis: die Zeit nutzen, weit landen.
about-take-off-out-of-a-walk = Drei flotte Schritte gehen, vom flachen Fuß nach oben abspringen und im Sand landen; Hinweis: groß, Schwungbein waagerecht, Fußspitze angezogen.
about-take-off-out-of-one-step = Aus dem Stand auf das Sprungbein treten und hoch in den Sand springen; Hinweis: Hüfte über dem Fuß, Schwungbein waagerecht.
about-take-off-with-the-free-knee-held = Aus sechs Schritten abspringen und den Oberschenkel des Schwungbeins bis in den Sand waagerecht halten; Hinweis: das Absprungbild einfrieren.
about-take-offs-every-few-strides = Locker laufen, jeden dritten oder fünften Schritt nach oben abspringen und auf dem Schwungbein weiterlaufen; Hinweis: kurz hochspringen, nicht nach vorn greifen.
about-three-bounds-and-hold = Drei Sprunglaufschritte aus dem Stand, die nächste Landung auf einem Bein halten; Hinweis: Hüfte, Knie und Fuß in einer Linie.
about-three-hops-and-hold-one-leg = Dreimal auf einem Bein vorwärts springen und die letzte Landung darauf halten; Hinweis: stehen und bis zwei zählen.
about-three-two-leg-long-jumps-in-a-row = Dreimal ohne Halt beidbeinig nach vorn springen und die letzte Landung stehen; Hinweis: die Füße bei der Landung unter den Körper ziehen.
about-triple-jump-from-four-strides = Aus vier Schritten Hop, Step und Jump in den Sand; Hinweis: derselbe Rhythmus wie aus langem Anlauf.
about-triple-jump-full-run-up = Mit dem Anlauf des Wettkampfs Hop, Step und Jump in den Sand; Hinweis: vom Brett nach vorn, nicht nach oben.
about-triple-jump-middle-run-up = Aus etwa zwölf Schritten Hop, Step und Jump in den Sand; Hinweis: aktiver Step, den Fuß unter den Körper zurückziehen.
about-triple-jump-short-run-up = Aus sechs bis acht Schritten Hop, Step und Jump in den Sand; Hinweis: ein flacher Hop lässt Tempo für den Jump.
about-tuck-jumps = Am Ort immer wieder hochspringen und oben die Knie anhocken; Hinweis: erst ganz strecken, dann die Knie.
about-two-hops-and-a-jump-into-the-sand-short-run-in = Aus ein paar Schritten zwei Hops auf einem Bein und mit demselben Bein in den Sand springen; Hinweis: durch die Hops weiterlaufen.
about-two-leg-forward-jumps-easy = Beidbeinig mit halber Bestweite nach vorn springen, Sprung auf Sprung; Hinweis: jeder gleich weit.
about-two-leg-hops-to-a-beat-2-2-a-second = Am Ort im Takt eines Metronoms mit 2,2 Schlägen je Sekunde hüpfen; Hinweis: ein Schlag, eine Landung.
about-zigzag-bounds = Zwischen zwei Linien von Bein zu Bein nach vorn außen springen; Hinweis: jeder Abdruck geht nach vorn und zur Seite.

## Woher Zahlen und Linien kommen

told-source-estimate = eine eigene Schätzung
told-source-pogo = eine eigene Schätzung nach Tests mit wiederholten maximalen Sprüngen, aus dem Gedächtnis, nicht nachgelesen (Harper, Hobbs & Moore 2011; Comyns et al. 2017)
told-source-pogo-loaded = eine eigene Schätzung: Prellsprünge ohne Last, Kontakt × (1 + 0,5 L) und Höhe × (1 − 1,04 L) bei einer Last L von 0,1; Geraden nach Sprüngen mit Ausholbewegung und Stange, Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-hops-paced = der Takt nach Hobara et al. 2011, Eur J Appl Physiol 111(9):2195–2201; wie sich 0,455 s aufteilen, ist eine eigene Schätzung, aus dem Gedächtnis nach Farley et al. 1991, J Appl Physiol 71:2127–2132
told-source-jump-quality = eine eigene Schätzung; zur Güte eines Sprungs gehören Kontakt und Höhe: Zushi et al. 2022, PLoS ONE 17(8):e0268339
told-source-as-drop-one-leg = eine eigene Schätzung, wie bei Tiefsprüngen auf einem Bein
told-source-rebounds-loaded = eine eigene Schätzung: serielle Sprünge ohne Last, Kontakt × (1 + 0,5 L) und Höhe × (1 − 1,04 L) bei einer Last L von 0,1; Geraden nach Sprüngen mit Ausholbewegung und Stange, Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-deep-loaded = eine eigene Schätzung: dasselbe ohne Stange, Kontakt × (1 + 0,5 L) und Höhe × (0,89 − 0,60 L) bei einer Last L von 0,25; Geraden nach Sprüngen mit Ausholbewegung, Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-counter-rebound = eine eigene Schätzung: wie der Tiefsprung aus der Höhe des ersten Sprungs; beide stimmen überein, Xu et al. 2023, Appl Sci 13(19):10680
told-source-hurdles = eine eigene Schätzung; Kontakte unter 0,25 s bis zu 140 % der eigenen Sprunghöhe: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720
told-source-hurdles-high = eine eigene Schätzung; bei 160 % der eigenen Sprunghöhe werden die Kontakte länger: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720
told-source-hurdles-one-leg = eine eigene Schätzung; auf einem Bein länger als auf zweien: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720
told-source-between-ankle-hurdle = eine eigene Schätzung, zwischen Fußgelenksprüngen und Hürdensprüngen
told-source-stairs = eine eigene Schätzung; der Anstieg von zwei Stufen zu 17 cm steckt in den Zahlen
told-source-below-drop-20 = eine eigene Schätzung, unter dem Tiefsprung aus 20 cm
told-source-below-drop-one-leg = eine eigene Schätzung, unter dem einbeinigen Tiefsprung
told-source-drop = eine eigene Schätzung; unter 0,26 s und von 20 bis 60 cm steigend: Ball, Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769
told-source-drop-30 = eine eigene Schätzung für 30 cm; unter 0,26 s von 20 bis 60 cm: Ball, Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769
told-source-drop-40 = eine eigene Schätzung; unter 0,25 s mit diesem Hinweis: Boccia et al. 2026, J Strength Cond Res 40(2):152–157; unter 0,26 s: Ball, Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769
told-source-drop-40-short = 0,021 s und 5,9 cm weniger als mit dem Hinweis auf beides, dessen 0,215 s und 0,54 s eigene Schätzungen sind: Boccia et al. 2026, J Strength Cond Res 40(2):152–157
told-source-drop-40-high = 0,049 s und 4,8 cm mehr als mit dem Hinweis auf beides, dessen 0,215 s und 0,54 s eigene Schätzungen sind: Boccia et al. 2026, J Strength Cond Res 40(2):152–157
told-source-drop-80 = eine eigene Schätzung, aus den Zeilen für 20 bis 60 cm fortgeführt
told-source-drop-uncued = 0,325 s bei Hochschulsportlern aus 45,7 cm: Sanchez et al., NSCA-Konferenz 2024; der Flug ist eine eigene Schätzung
told-source-drop-one-leg = eine eigene Schätzung; am besten bei 30 cm, und 20 bis 30 cm auf einem Bein sind etwa so intensiv wie 40 cm auf zweien: Wang & Peng 2014, Int J Sports Med 35(6):522–527
told-source-as-drop-rebounds = eine eigene Schätzung, wie bei Tiefsprüngen und seriellen Sprüngen
told-source-as-drop-onto = eine eigene Schätzung, wie beim Tiefsprung; der Anstieg auf den Kasten steckt in den Zahlen
told-source-between-drop-hurdle = eine eigene Schätzung, zwischen Tiefsprüngen und Hürdensprüngen
told-source-side-held = eine eigene Schätzung, mit dem Flug der Sprünge von Seite zu Seite: Wong et al. 2012, Int J Sports Med 33(8):647–653
told-source-fall = eine eigene Schätzung: ein Fall von 5 bis 15 cm auf den Kasten
told-source-landing-high = eine eigene Schätzung; die Kraftspitze wächst mit der Wurzel der Höhe: Niu et al. 2014, BioMed Res Int 2014:126860
told-source-skips = eine eigene Schätzung; nur der Abdruck jedes Hopsers ist genannt, nicht der leichte Schritt davor
told-source-gallop = eine eigene Schätzung; das hintere Bein, das allein genannt ist, trägt mehr: Andrada et al. 2016, R Soc Open Sci 3(11):160602
told-source-standing-long = eine eigene Schätzung: 0,45 s Abdruck nach oben und 0,50 s Flug
told-source-long-in-a-row = eine eigene Schätzung; jeder Sprung geht 0,92- bis 0,95-mal so weit wie der beste einzelne: Chen et al. 2015
told-source-bounds = eine eigene Schätzung, zwischen Sprintschritten (Weyand et al. 2010) und dem Step eines Dreisprungs (Perttunen et al. 2000)
told-source-speed-bounds = eine eigene Schätzung, zwischen 0,108 s (Sprint, Weyand et al. 2010) und 0,160 s (Hüpfen auf einem Bein, ebenda)
told-source-straight-leg = eine eigene Schätzung; näher am Sprint als am Sprunglauf auf Weite: Mero & Komi 1994, J Appl Biomech 10(1):1–13
told-source-as-bounds = eine eigene Schätzung, wie beim Sprunglauf aus dem Stand
told-source-above-bounds-run-in = eine eigene Schätzung, über dem Sprunglauf mit Anlauf
told-source-bounds-loaded = eine eigene Schätzung: Sprunglauf aus dem Stand, Kontakt × (1 + 0,5 L) und Höhe × (1 − 1,04 L) bei einer Last L von 0,1; Geraden nach Sprüngen mit Ausholbewegung und Stange, Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-hops = Flug geteilt durch Kontakt von 1,04 auf 1,43 steigend: Sarabon et al. 2022, Appl Sci 12(22):11383; der Flug von 0,32 s und die Tempi sind eigene Schätzungen
told-source-hops-run-in = 0,160 s und 2,71 Körpergewichte beim Hüpfen auf einem Bein im Höchsttempo: Weyand et al. 2010, J Appl Physiol 108:950–961
told-source-between-hurdle-hops = eine eigene Schätzung, zwischen einbeinigen Hürdensprüngen und Einbeinsprüngen aus dem Stand
told-source-as-triple-four = eine eigene Schätzung, wie beim Dreisprung aus vier Schritten
told-source-as-standing-triple = eine eigene Schätzung, wie beim Dreisprung aus dem Stand
told-source-combined-run-in = eine eigene Schätzung: Zeiten wie beim Dreisprung aus kurzem Anlauf, in jedem Kontakt gehen 4 % des Tempos verloren
told-source-platform = eine eigene Schätzung, aus Einbeinsprüngen und Sprunglauf aus dem Stand; eine Plattform verlängert den ersten Kontakt
told-source-out-of-hops = eine eigene Schätzung, aus Einbeinsprüngen
told-source-out-of-bounds-run-in = eine eigene Schätzung, aus dem Sprunglauf mit Anlauf
told-source-low-boxes = eine eigene Schätzung, aus dem Sprunglauf aus dem Stand; der Anstieg auf den Kasten und der Fall davon stecken in den Zahlen
told-source-drop-forward = eine eigene Schätzung, 0,06 s über dem Tiefsprung; länger als der senkrechte: Ball & Zanetti 2012, J Strength Cond Res 26(5):1407–1412; Montoro-Bombú et al. 2024, PeerJ 12:e17026
told-source-drop-forward-one-leg = eine eigene Schätzung, 0,06 s über dem einbeinigen Tiefsprung, wie beidbeinig
told-source-skater = 0,45 s und im Mittel 0,76 Körpergewicht·s: Wong et al. 2012, Int J Sports Med 33(8):647–653; das Tempo ist eine eigene Schätzung
told-source-quick-steps = 0,23 s bei schneller seitlicher Fußarbeit und eine mittlere Kraft von 1,35 Körpergewichten: Wong et al. 2012, Int J Sports Med 33(8):647–653; das Tempo ist eine eigene Schätzung
told-source-above-side-hops = eine eigene Schätzung, über den Sprüngen von Seite zu Seite
told-source-above-hurdles = eine eigene Schätzung, über den Hürdensprüngen vorwärts
told-source-above-drop = eine eigene Schätzung, über dem Tiefsprung
told-source-as-hurdle-hops = eine eigene Schätzung, wie bei einbeinigen Hürdensprüngen vorwärts
told-source-as-hops = eine eigene Schätzung, wie bei Einbeinsprüngen aus dem Stand
told-source-long-jump = eigene Schätzung für { $n } Schritte: 0,12 s + 0,015 s für jeden m/s unter vollem Tempo; der Winkel bleibt, wenn der Anlauf sich ändert: Bridgett & Linthorne 2006, J Sports Sci 24(8):889–897
told-source-long-jump-full = eigene Schätzung: 0,12 s, zwischen 0,127 s eines Weltklasseathleten (Čoh, Žvan & Kugovnik 2017, doi 10.5772/intechopen.71418) und 0,11 s und 61 bis 63°, aus dem Gedächtnis nach Linthorne 2008
told-source-triple-jump = eigene Schätzung: { $s } s über dem vollen Anlauf (0,135, 0,157, 0,177 s nach Perttunen et al. 2000, J Sports Sci 18:363–370); Tempo nach Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237
told-source-triple-jump-full = Kontakte nach Perttunen et al. 2000, J Sports Sci 18:363–370 (0,139, 0,157, 0,177 s), der erste mit 0,135 s; Tempo nach Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237; Flüge und Winkel sind eigene Schätzungen
told-source-drill = eine eigene Schätzung, aus den kurzen Anläufen der Disziplinen
told-source-drill-raised = eine eigene Schätzung, aus den kurzen Anläufen der Disziplinen; das erhöhte Brett steckt nicht in den Zahlen
told-source-drill-step = eine eigene Schätzung, aus den kurzen Anläufen der Disziplinen; Tempoverlust im Step nach Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237
told-source-as-a-skip = eine eigene Schätzung, wie beim A-Skip
told-source-backward = 0,116 s im höchsten Tempo rückwärts: Weyand et al. 2010, J Appl Physiol 108:950–961; Flug, Tempo und Winkel sind eigene Schätzungen
told-source-start = eine eigene Schätzung nach ersten Schritten von 0,166 bis 0,225 s bei Ciacci et al. 2017, J Sports Sci 35(13):1270–1278, wie eine Übersichtsarbeit sie nennt; die späteren aus dem Gedächtnis nach Salo et al. 2005
told-source-start-hill = eine eigene Schätzung, wie beim Hochstart mit 0,01 s mehr am Boden; die Steigung steckt nicht in den Zahlen
told-source-start-sled = eine eigene Schätzung: der Hochstart, Kontakt × (1 + 0,7 L) und Tempo × (1 − 0,45 L) bei einer Last L von 0,126; Geraden nach Lockie et al. 2003, J Strength Cond Res 17(4):760–767, und einer Studie über Sprints mit Schlitten von 20 bis 40 % der Körpermasse (PLoS ONE 2018)
told-source-sprint = 0,108 s und 2,08 Körpergewichte im Höchsttempo: Weyand et al. 2010, J Appl Physiol 108:950–961
told-source-below-sprint = eine eigene Schätzung, unter den Sprintschritten in vollem Tempo
told-source-run-through = eine eigene Schätzung: die letzten drei Schritte des Anlaufs, wie Sprintschritte in vollem Tempo
told-source-below-standing-long = eine eigene Schätzung, unter dem Standweitsprung mit Schwung
told-source-below-hurdles = eine eigene Schätzung, unter Hürdensprüngen mit Nachsprung
told-source-paused-quarter = eine eigene Schätzung: Hocksprung aus dem Halt ohne Stange, Höhe × 0,74 und Landung × 1,20 wie bei Sprüngen mit Ausholbewegung: Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-paused-half = eine eigene Schätzung: Hocksprung aus dem Halt ohne Stange, Höhe × 0,59 und Landung × 1,29, auf Geraden zwischen Lasten von 0,25 und 1 bei Sprüngen mit Ausholbewegung: Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-session = Potach & Chu, Essentials of Strength Training and Conditioning (NSCA): 80–100, 100–120, 120–140 Kontakte (Werte aus dem Gedächtnis); die Quellen sind uneins, ob je Einheit oder je Woche
told-source-youth = Johnson, Salzberg & Stevenson 2011, J Strength Cond Res 25(9):2623–2633: zweimal die Woche, ab 50–60 Sprüngen je Einheit (5 bis 14 Jahre; sieben Studien von geringer Güte)
told-source-before-depth = Übereinkunft der Handbücher vor Tiefsprüngen (Wert aus dem Gedächtnis); dass es nötig ist, wurde nie gezeigt
told-source-line = eine eigene Linie, ohne Quelle
told-source-line-hard = eine eigene Linie, ohne Quelle: dort beginnen im Katalog die härteren Übungen dieser Art
told-source-line-rise = eine eigene Linie, ohne Quelle; auch Anstiege von 10 % je Woche sind eine Übereinkunft: Buist et al. 2008, Am J Sports Med 36(1):33–39, fanden damit so viele Verletzungen (20,8 %) wie ohne (20,3 %)
told-source-hard-days = 48–72 h zwischen den Einheiten, Handbücher (Wert aus dem Gedächtnis)
told-source-majority = das Alter der Volljährigkeit an den meisten Orten; örtliche Regeln gehen vor
told-source-consent = mit Einwilligung: Johnson, Salzberg & Stevenson 2011, J Strength Cond Res 25(9):2623–2633 (5 bis 14 Jahre); das Alter ist das der Volljährigkeit an den meisten Orten; örtliche Regeln gehen vor
told-source-heavy = über 100 kg kein Tiefsprung über 46 cm, Handbücher (Wert aus dem Gedächtnis)
told-source-pain = nach Silbernagel et al. 2007, Am J Sports Med 35(6):897–906 (gemacht für Erwachsene in Behandlung wegen einer schmerzenden Achillessehne; Wortlaut aus dem Gedächtnis); örtliche Regeln gehen vor
told-source-sign = eine eigene Regel: Fachleute mit Zulassung und örtliche Regeln gehen vor
told-source-angle = der Winkel des Beins beim Aufsetzen, eine eigene Schätzung
told-source-speed-lost = das Tempo des Anlaufs, abzüglich dessen, was die Kontakte kosten, eine eigene Schätzung
told-source-speed-capped = das Tempo, über dem die Übung nicht gemacht wird, eine eigene Schätzung
told-source-cued = die übliche Zeit, so geändert, wie der Hinweis Tiefsprünge trainierter Jugendlicher aus 40 cm änderte: Boccia et al. 2026, J Strength Cond Res 40(2):152–157; für andere Kästen eine eigene Schätzung
told-source-landing = ein eigenes Modell: das Tempo, mit dem sich der Körper entlang des Beins dem Boden nähert, und die Energie, die jedes Bein aufnehmen muss; es ordnet Kontakte einer Art und ist keine Kraft
told-source-push = mittlere Kraft aus Kontakt- und Flugzeiten über die Impulsbilanz (Weyand et al. 2000, J Appl Physiol 89:1991–1999); die Spitze ist die einer halben Sinuswelle und lässt den Aufprall weg, der mehrmals so hoch sein kann
told-source-acceleration-strides = v(t) = v_max(1 − e^(−t/τ)), Samozino et al. 2016, Scand J Med Sci Sports 26:648–658; 4,1 Schritte je Sekunde, eine eigene Schätzung
told-source-acceleration = v(t) = v_max(1 − e^(−t/τ)), Samozino et al. 2016, Scand J Med Sci Sports 26:648–658
told-source-stride-rate = 4,1 Schritte je Sekunde, eine eigene Schätzung
told-source-free-fall = gleichmäßige Beschleunigung, g = 9,81 m/s², ohne Luft
told-source-speed-costs = Tempo des Anlaufs, abzüglich dessen, was die Kontakte davor kosten: im Dreisprung 8,5 und 15,1 % von Flug zu Flug, Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237; in anderen Folgen ein Anteil je Kontakt, 4 %, wo nichts anderes gesagt ist, eine eigene Schätzung
told-source-peak = eine halbe Sinuswelle mit demselben Mittel: Morin et al. 2005, J Appl Biomech 21:167–180; eine Schätzung ohne den Aufprall, der mehrmals so hoch sein kann
told-source-height = Bosco, Luhtanen & Komi 1983, Eur J Appl Physiol 50:273–282
told-source-reactive = Young 1995; Flanagan & Comyns 2008, Strength Cond J 30(5):32–38; mit Höhe und Kontaktzeit daneben, denn eine Tabelle mit Normwerten gibt es nicht
told-source-last-ten = das mittlere Tempo der letzten zehn Meter steht für das an ihrem Ende
told-source-timed = am Ende des Anlaufs gemessen
told-source-stand-speed = wie es die Übung sagt: Aus dem Stand kommt von Kontakt zu Kontakt Tempo dazu
told-source-top-share = wie es die Übung sagt: ein Anteil am Höchsttempo
told-source-target-triple = Mittel von 7 Springern der nationalen Klasse, voller Anlauf: Perttunen et al. 2000, J Sports Sci 18:363–370
told-source-target-board = ein Weltklasseathlet, voller Anlauf: Čoh, Žvan & Kugovnik 2017, doi 10.5772/intechopen.71418
told-source-target-sprint = Sprint im Höchsttempo, 0,08 bis 0,11 s: Wert aus dem Gedächtnis
told-source-limit = die Grenze selbst
told-source-sprint-flight = 0,108 s × (2,08 − 1); Weyand et al. 2010, J Appl Physiol 108:950–961
told-source-tau = 9,46 m/s durch 6,42 m/s², gerundet; di Prampero et al. 2005, J Exp Biol 208:2809–2816
told-source-top-speed = eine eigene Schätzung für einen gemischten Kader; besser das eigene Tempo angeben oder messen

## Formeln

told-formula-stand = aus dem Stand fällt nichts
told-formula-no-impact = { $formula }, ohne den Aufprall
told-formula-system-weights = { $formula } Gewichte von Körper und Last
told-formula-costs = v_h = v·k − was es kostet
told-formula-cap = v_h = Obergrenze der Übung·k
told-formula-cap-costs = v_h = Obergrenze der Übung·k − was es kostet

## Felder der Formulare

told-field-row = Zeile { $n }, { $field }
told-field-sets = Sätze
told-field-reps = Wiederholungen
told-field-contacts = Kontakte je Wiederholung
told-field-contacts-each = Kontakte je Wiederholung
told-field-leg = Bein
told-field-box = Höhe des Kastens
told-field-box-said = Höhe des Kastens
told-field-run-in = Anlauf
told-field-strides = Schritte des Anlaufs
told-field-load = Zusatzlast
told-field-load-added = Zusatzlast
told-field-last-ten = Zeit der letzten 10 m
told-field-last-ten-said = Zeit der letzten 10 m
told-field-cue = Hinweis
told-field-minutes = Minuten
told-field-rpe = Anstrengung
told-field-sleep = Schlaf
told-field-score = Schmerz von 0 bis 10
told-field-hurts = Was wehtut
told-field-part = Körperteil
told-field-side = Seite
told-field-day = Tag
told-field-until = Letzter Tag
told-field-name = Name
told-field-why = Grund
told-field-reason = Grund
told-field-cut-short = Grund des Abbruchs
told-field-purpose = Zweck
told-field-place = Ort
told-field-note = Notiz
told-field-session = Einheit
told-field-surface = Boden
told-field-shoes = Schuhe
told-field-wetness = Nässe
told-field-wind = Wind
told-field-warmth = Temperatur
told-field-mark = Marke
told-field-marks = Anzahl der Marken
told-field-rate = Aufnahmerate
told-field-crop = Ausschnitt
told-field-exercise = Übung
told-field-athletes = Athleten
told-field-rows = Übungen des Plans
told-field-rest = Pause

## Was ein Feld annimmt

told-range-whole = eine ganze Zahl von { $from } bis { $to }
told-range-whole-any = eine ganze Zahl
told-range-decimals = eine Zahl mit höchstens drei Nachkommastellen
told-range-chars = Text von { $from } bis { $to } Zeichen
told-range-chars-plain = { $text }, ohne Steuerzeichen
told-range-mm = { $from } bis { $to } mm
told-range-cm = { $from } bis { $to } cm
told-range-g = { $from } bis { $to } g
told-range-ms = { $from } bis { $to } ms
told-range-ms-ten = { $from } bis { $to } ms über zehn Meter
told-range-strides = { $from } bis { $to } Schritte
told-range-contacts = { $from } bis { $to } Kontakte
told-range-ends = { $n }, denn dort endet diese Übung
told-range-one-leg = links, rechts oder im Wechsel, bei einer einbeinigen Übung
told-range-two-legs = beide, bei einer beidbeinigen Übung
told-range-no-box = leer lassen, bei einer Übung ohne Kasten
told-range-no-run-in = leer lassen, bei einer Übung ohne Anlauf
told-range-standing = aus dem Stand, oder leer lassen
told-range-run-in = entweder Schritte oder eine Länge
told-range-day = ein Tag, geschrieben wie { $day }
told-range-day-from = ein Tag ab { $day }
told-range-day-plan = ein Plan für { $day }
told-range-day-before = ein Tag, der nicht vor dem ersten liegt
told-range-name = ein Name
told-range-why = der Grund, in ein paar Worten
told-range-why-chars = der Grund, in höchstens { $n } Zeichen
told-range-purpose = wozu die Einheit dient
told-range-minutes = Minuten zur Anstrengung dazu
told-range-rating = die Anstrengung zu den Minuten dazu
told-range-minutes-said = mit Minuten dazu
told-range-rating-said = mit der Anstrengung dazu
told-range-no-sets = ein Tag ohne Sätze: Weitere werden einzeln aufgeschrieben
told-range-marks = höchstens { $n } in einem Clip
told-range-rate = eine Rate von mindestens { $from } und höchstens { $to } Bildern je Sekunde
told-range-crop = Teile des Bildes von { $from } bis { $to }
told-range-athletes = mindestens ein Athlet
told-range-rows = mindestens eine Übung

## Was eingetragen wurde

told-value-left = links
told-value-right = rechts
told-value-both = beide
told-value-alternate = im Wechsel
told-value-run-in = ein Anlauf bei einer Übung { $entry }
told-value-standing = aus dem Stand
told-value-walk-in = aus dem Gehen
told-value-level-flight = aus dem Flug
told-value-box = von einem Kasten
told-value-onto-box = auf einen Kasten

## Was es nicht gibt

told-missing-in-row = { $what } (Zeile { $n })
told-missing-athlete = diesen Athleten
told-missing-athlete-here = einen Athleten, für den dieses Gerät schreibt
told-missing-member = diese Person
told-missing-session = diese Einheit
told-missing-session-before = eine frühere Einheit
told-missing-session-planned = diese geplante Einheit
told-missing-set = diesen Satz
told-missing-set-own = diesen Satz dieses Athleten
told-missing-set-today = einen Satz von heute
told-missing-set-planned = diesen Satz zu einem Plan
told-missing-exercise = diese Übung
told-missing-exercise-plan = diese Übung des Plans
told-missing-row = diese Zeile des Plans
told-missing-clip = diesen Clip auf der Liste
told-missing-file = diese Datei
told-missing-device = dieses Gerät
told-missing-setting = diese Einstellung
told-missing-choice = diese offene Wahl
told-missing-target = diesen Zielwert

## Warum ein Gerät nicht schreiben darf

told-reason-may-not = Dieses Gerät darf das nicht schreiben: { $why }.
told-reason-owner = Das dürfen nur die Geräte des Trainers
told-reason-member = Das dürfen nur die eigenen Geräte des Athleten
told-reason-scope = Es gehört nicht dorthin
told-reason-founding = Ein Kader wird nur einmal gegründet
told-reason-not-given = Der Trainer hat ihm das nicht erlaubt
told-reason-removed = Es wurde aus dem Kader entfernt
told-reason-senior = Das darf nur ein älteres Gerät
told-reason-erased = Die Daten dieser Person wurden gelöscht
told-reason-not-admitted = Es ist in keinem Kader zugelassen

## Was Marken in einem Clip nicht sein können

told-mark-touchdown = Aufsetzen
told-mark-toe-off = Abheben
told-mark-contact = Kontakt
told-mark-flight = Flug
told-mark-left = der linke Fuß
told-mark-right = der rechte Fuß
told-mark-both = beide Füße
told-mark-outside = Das { $event } ist bei Bild { $frame } markiert, aber der Clip hat die Bilder { $first } bis { $last }
told-mark-first = Das { $event } ist in Bild { $frame } markiert: Kein Bild davor zeigt, wann es war
told-mark-reversed = Beim { $event } muss das letzte Bild davor ({ $before }) früher sein als das erste danach ({ $after })
told-mark-same-time = Die Bilder { $before } und { $after } um das { $event } haben im Clip dieselbe Zeit
told-mark-bracket = Eine Spanne von { $before } bis { $after } ist verkehrt herum oder leer
told-mark-order = Das { $later } liegt nicht nach dem { $earlier }: Ihre Bilder sind vertauscht oder überschneiden sich
told-mark-kinds = Ein { $wanted } beginnt mit dem { $from } und endet mit dem { $to }, nicht umgekehrt
told-mark-other-foot = Am Anfang des Kontakts: { $on }; am Ende: { $off }
told-mark-take-order = Marke { $index } ({ $event }) ist früher als die Marke davor
told-mark-down = Marke { $index }: Aufsetzen, obwohl schon am Boden ({ $foot })
told-mark-not-down = Marke { $index }: Abheben ohne Aufsetzen davor ({ $foot })
told-mark-scale = Die Unsicherheit von Uhr oder Urteil ist keine brauchbare Zahl
told-mark-calibration-order = Der zweite Moment liegt nicht nach dem ersten: Ihre Bilder sind vertauscht oder überschneiden sich
told-mark-calibration-coarse = Der Maßstab wäre auf { $n } % unsicher: über eine längere Zeit messen, oder genauer

## Was der Leser eines Clips sah

told-clip-stored = Die gespeicherten Zeiten laufen mit { $rate } Bildern je Sekunde (Median aus { $n } Schritten).
told-clip-stored-one = Die gespeicherten Zeiten laufen mit { $rate } Bildern je Sekunde (aus { $n } Schritt).
told-clip-no-rate = Die gespeicherten Zeiten haben keine Rate: Es sind weniger als zwei Bilder, oder die meisten haben dieselbe Zeit.
told-clip-edits = Die Schnittliste spielt einen Teil in anderem Tempo ab: Die Zeiten des einen Teils sind nicht die des anderen.
told-clip-slowed-part = Das Ende der Datei sagt, dass ein Teil verlangsamt aufgenommen wurde: Die Zeiten des einen Teils sind nicht die des anderen.
told-clip-real = Nichts sagt, dass er verlangsamt wurde, und mit { $n } oder mehr Bildern je Sekunde wird nicht abgespielt: Die Zeiten sind echt.
told-clip-unsaid = Nichts sagt, mit wie vielen Bildern je Sekunde aufgenommen wurde: Der Clip kann normal oder verlangsamt sein. Wer gefilmt hat und die Aufnahmerate angibt, klärt es; ebenso ein gefilmter Ball, der aus gemessener Höhe fällt, oder eine gefilmte laufende Uhr.
told-clip-interpolated = Das Ende der Datei sagt, dass Bilder berechnet wurden: Ein solches Bild zeigt keinen gefilmten Moment.
told-clip-repeated-rate = Von je { $n } Bildern ist nur eines ein richtiges Bild: Die anderen können wiederholt oder von einem Programm gemacht sein. Von den { $stored } gespeicherten je Sekunde hat die Kamera vielleicht nur { $rate } aufgenommen. Ein Kontakt lässt sich nicht feiner messen, als die Kamera ihn sah. Das ist eine eigene Regel, allein aus der Größe der Bilder.
told-clip-repeated = Von je { $n } Bildern ist nur eines ein richtiges Bild: Die anderen können wiederholt oder von einem Programm gemacht sein. Ein Kontakt lässt sich nicht feiner messen, als die Kamera ihn sah. Das ist eine eigene Regel, allein aus der Größe der Bilder.
told-clip-says = Der Clip nennt { $rate } aufgenommene Bilder je Sekunde ({ $place }).
told-clip-says-nothing = Eine Angabe des Clips ({ $place }) ist nicht zu brauchen und bleibt unbeachtet.
told-clip-place-key = com.android.capture.fps
told-clip-place-user = smta
told-clip-stated-same = Angegebene Aufnahmerate: { $rate } Bilder je Sekunde, wie der Clip sie nennt.
told-clip-stated-instead = Angegebene Aufnahmerate: { $rate } Bilder je Sekunde. Sie gilt anstelle dessen, was der Clip sagt.
told-clip-stated = Angegebene Aufnahmerate: { $rate } Bilder je Sekunde.
told-clip-disputed = Diese Raten widersprechen sich. Wer gefilmt hat und die Aufnahmerate angibt, klärt es.
told-clip-same = { $rate } aufgenommen und { $stored } gespeichert sind auf { $n } % gleich: Die Zeiten sind echt.
told-clip-more-stored = { $rate } aufgenommen, aber { $stored } gespeichert: Mehr Bilder als aufgenommen kann es nicht geben, also stimmt die Aufnahmerate nicht, oder die Zeiten stimmen nicht.
told-clip-between = { $rate } aufgenommen und { $stored } gespeichert: zu weit auseinander für echte Zeiten, zu nah für einen verlangsamten Clip.
told-clip-slowed = { $rate } aufgenommen und { $stored } gespeichert: Der Clip ist { $n }-fach verlangsamt.
told-clip-steps = Die Abstände zwischen den Bildern sind für jeden Clip zu groß.
told-clip-ball = Ein Ball fiel aus { $height } m (± { $u } m Standardunsicherheit): √(2h/g) = { $seconds } s, ohne die Luft.
told-clip-clock = Eine gefilmte Uhr ging um { $seconds } s weiter, auf { $digit } s abgelesen.
told-clip-ticks = Das sind { $ticks } Takte des Clips, also dauert ein Takt { $ms } ms, auf ± { $share } % bekannt (Standardunsicherheit).
told-clip-empty = Die Datei ist leer
told-clip-none = Das ist keine MP4- oder QuickTime-Datei
told-clip-no-video = In der Datei ist kein Video

## Der Hinweis einer Übung

exercise-cue = ; Hinweis: { $cue }
cue-said-short = kurz
cue-said-high = hoch

## Warum etwas nicht ging, und was man tun kann

failure-field-unnamed = „{ $field }“
failure-refused = { $field }: „{ $value }“ geht nicht. Möglich ist: { $range }.
failure-refused-unsaid = { $field }: „{ $value }“ geht nicht.
failure-empty = { $field }: Hier fehlt etwas. Nötig ist: { $range }.
failure-empty-unsaid = { $field }: Hier fehlt etwas.
failure-refused-do = Geh zurück und ändere es. Gesichert wurde nichts.
failure-day-do = Ist heute ein anderer Tag, stelle die Uhr dieses Telefons.
failure-clip = Dieser Clip lässt sich nicht lesen: { $why }.
failure-clip-damaged = Dieser Clip lässt sich nicht lesen: Die Datei ist beschädigt, oder diese App kann sie nicht lesen.
failure-clip-do = Wähle das Original eines Zeitlupenclips, MP4 oder MOV.
failure-file = Die Datei ließ sich nicht schreiben.
failure-file-do = Sieh nach, ob auf dem Telefon noch Platz ist, und versuch es noch einmal.
failure-missing = Dieses Telefon kennt { $what } nicht oder nicht mehr.
failure-missing-unsaid = Dieses Telefon kennt nicht oder nicht mehr, wonach gefragt wurde.
failure-missing-do = Geh zurück: Die Seite davor zeigt, was es jetzt gibt.
failure-missing-file-do = Wähle sie noch einmal.
failure-not-allowed-do = Frag deinen Trainer, wenn du das dürfen solltest.
failure-full = Der Speicher dieses Telefons ist voll. Was vorher gesichert war, bleibt; das hier wurde nicht gesichert.
failure-full-do = Mach Platz und versuch es noch einmal.
failure-held = Etwas anderes hält gerade das Buch dieses Telefons fest.
failure-held-do = Warte kurz und versuch es noch einmal.
failure-busy = Es ist gelöscht, steht aber noch bis zum nächsten Versuch in einer Datei des Buchs, weil gerade darin gelesen wurde.
failure-damaged = Das Buch dieses Telefons ist beschädigt, oder es ist kein Buch.
failure-damaged-do = Lösche die App nicht: Was nie abgeglichen wurde, steht nur in diesem Buch. Frag deinen Trainer.
failure-newer = Eine neuere Fassung dieser App hat das Buch geschrieben.
failure-newer-do = Aktualisiere die App. Verloren ist nichts.
failure-read-only = Dort, wo das Buch dieses Telefons liegt, lässt sich nichts schreiben.
failure-read-only-do = Starte das Telefon neu und versuch es noch einmal.
failure-other-device = Das Buch auf diesem Telefon gehört zu einem anderen Gerät.
failure-other-device-do = Bitte deinen Trainer um eine Einladung; was abgeglichen war, kommt damit zurück.
failure-no-squad = Dieses Telefon ist noch in keinem Kader.
failure-no-squad-do = Antworte zuerst auf eine Einladung deines Trainers.
failure-book = Das Buch dieses Telefons konnte nicht gelesen oder geschrieben werden. Durch den Versuch ging nichts verloren.
failure-book-do = Versuch es noch einmal; hilft das nicht, starte das Telefon neu.
failure-closed = Das Buch ist zu.
failure-closed-do = Schließe die App und öffne sie wieder.
failure-inside = In der App ging etwas schief. Was vorher gesichert war, bleibt.
failure-inside-do = Versuch es noch einmal; hilft das nicht, schließe die App und öffne sie wieder.
