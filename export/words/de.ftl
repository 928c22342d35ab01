# Die Wörter der Blätter auf Deutsch. Schreibweise: Project Fluent. Zahlen kommen als Werte, schon für den Maßstab geschrieben.

document-title = { $name }: Blätter für die Werkstatt
foot-page = Seite { $page } von { $of }
foot-inches = Alle Längen in Zoll. „Reichlich“ ist ein Haar mehr, „knapp“ ein Haar weniger.
foot-millimetres = Alle Längen in Millimetern. „Reichlich“ ist ein Haar mehr, „knapp“ ein Haar weniger.
no-source = Übliche Praxis, ohne Quelle.
count-strips = { $count ->
    [one] { $count } Streifen
   *[other] { $count } Streifen
}
count-glue-lines = { $count ->
    [one] { $count } Leimfuge
   *[other] { $count } Leimfugen
}
panel-named = Platte { $panel }
near-end = nahes Ende
panel-near-end = am nahen Ende der Platte
far-end = fernes Ende
panel-far-end = am fernen Ende der Platte

figure-inch = Zoll
figure-full = reichlich
figure-bare = knapp
figure-board-feet = Brettfuß
figure-pound = Pfund
figure-ounce = Unzen
figure-fluid-ounces = US-Flüssigunzen
figure-pound-force = Pfund Kraft
figure-pound-force-an-area = Pfund je Quadratzoll
figure-square-inch = Zoll²
figure-cubic-inch = Zoll³
figure-turns-a-minute = Umdrehungen je Minute
figure-inches-a-minute = Zoll/min
figure-millimetres-a-minute = mm/min
figure-feet-a-minute = Fuß je Minute
figure-metres-a-second = m je Sekunde
figure-under = unter
figure-over = über

# Überblick
head-board = { $name }
head-continued = { $title }, Fortsetzung
overview-seen = Das fertige Brett, von der { $broad } { $side } Ecke gesehen. Nicht maßstäblich.
overview-length = Fertige Länge, von links nach rechts
overview-width = Fertige Breite, von vorn nach hinten
overview-thickness = Fertige Dicke
overview-made-of = { $count ->
    [one] { $count } Streifen
   *[other] { $count } Streifen
} aus { $panels ->
    [one] einer verleimten Platte
   *[other] { $panels } verleimten Platten
}. Es wird etwa { $mass } wiegen.
overview-wood = { $wood }: { $count ->
    [one] { $count } Zuschnitt
   *[other] { $count } Zuschnitte
}.
overview-before = Bevor es losgeht
overview-order = Die Blätter stehen in der Reihenfolge der Arbeit; die der CNC stehen zusammen hinter den anderen, und der Schritt, den eines davon übernimmt, nennt es. Jedes Kästchen abhaken, wenn der Schritt getan ist. Wo ein Kasten nach einem Maß fragt, es dort und in den Plan schreiben und die Blätter neu machen: alles Weitere folgt daraus.
overview-manual = Die Anleitung jeder Maschine, örtliche Vorschriften und Leute, die daran ausgebildet sind, gehen vor. Ein Warnhinweis erinnert nur; nichts hier sagt, dass ein Schnitt für dich sicher ist.
findings-title = Was Sorgfalt braucht
findings-none = Es fand sich nichts, das besondere Sorgfalt braucht.
findings-only-notes = Vor dem Anfangen ist nichts zu beheben. Was zu wissen ist, steht in den Anmerkungen.
findings-in-english = Im vollen Wortlaut, und was hilft, auf Englisch in cut-list.txt.
findings-one = { $kind }: { $subject }:
findings-mends = Was hilft: { $mends }.
findings-if-wanted = Nur wenn du willst: { $mends }.
notes-title = Anmerkungen
notes-one = { $subject }:
subject-board = Brett
finding-figures = Maße darin
kind-can-t-be-made = Geht nicht
kind-take-care = Vorsicht
kind-note = Hinweis

# Holz
stock-title = Holzliste und Aushobeln
stock-about = Jeden Zuschnitt vor der ersten Verleimung auf diese Maße bringen. Breite und Dicke, wie der Zuschnitt in der Platte liegt.
stock-letter = Buchstabe
stock-wood = Holz
stock-wide = breit
stock-thick = dick
stock-long = lang
stock-rough = vor dem Hobeln
stock-buy = Roh kaufen, jedes Stück mindestens { $more } breiter und dicker als in der Liste und nicht kürzer, mehr, wo es krumm oder hohl ist (gängige Praxis, ohne Quelle); die Mengen rechnen mit { $more }, ohne Fehler im Holz und ohne Sägeschnitte. Der Händler rundet: nach dem kaufen, was die Stücke messen.
stock-buy-rough = Was der Plan roh angibt, zählt so, wie es ist; die Mengen sind ohne Fehler im Holz und ohne Sägeschnitte. Der Händler rundet: nach dem kaufen, was die Stücke messen.
stock-to-buy = { $wood }: roh kaufen
stock-sapwood = Splint, wie er sein soll
stock-sapwood-says = Wie weit er an den Enden von seiner Ecke aus reicht, in der Breite mal in der Dicke, ungefähr: je näher daran, desto treuer das Bild.
stock-sapwood-size = { $wide } mal { $thick }
stock-table-says = Die volle Länge lassen: die Platte wird erst an der Säge winklig geschnitten.
stock-moisture = Holzfeuchte, wie angegeben: von { $low } bis { $high }. Die Zuschnitte eines Bretts sollten höchstens zwei Punkte auseinander liegen.
stock-moisture-alike = Holzfeuchte wie angegeben: { $low }.
stock-moisture-unknown = Der Plan nennt keine Holzfeuchte: Gewicht und Bewegung rechnen mit { $made }. Jeden Zuschnitt messen, wenn es geht; höchstens zwei Punkte auseinander, und so trocken wie deine Werkstatt.
stock-unseen = Von manchen Zuschnitten ist kein Ende beschrieben: wie ihre Zeichnung aussehen wird, ist geraten.
stock-steps = Schritt für Schritt
stock-choose = Zuschnitte auslegen und prüfen: trocken, ohne Risse, ohne Farbe und Metall. Wo Splint oder Jahrringe das Muster machen, Holz nehmen, dessen beide Enden aussehen wie auf den Bildern der Plattenenden, der Splint in derselben Ecke und so groß. Beide Enden mit Buchstaben zeichnen.
stock-joint = Eine Fläche abrichten, dann eine Kante winklig dazu fügen.
stock-plane = Die andere Fläche parallel hobeln, auf die Dicke der Liste. So zuführen, dass die Faser von den Messern weg ansteigt.
stock-rip = Auf die Breite der Liste auftrennen. Erster und letzter Zuschnitt behalten ihre Zugabe zum Begradigen: sie ist in der Liste schon enthalten.
stock-dot = Einen Punkt auf die bezeichnete Ecke am nahen Ende jedes Zuschnitts setzen: unten rechts, wenn man auf dieses Ende blickt. Welches Ende das nahe ist und wie Splint und Ringe dann liegen, zeigen die Bilder der Plattenenden.
stock-limit = { $machine }: Werkstücke bis { $widest } breit und nicht kürzer als { $shortest }.
stock-at-hand = Außerdem nötig
stock-bits = Fräser, wie breit; Rundung und Fase, wie groß:
stock-bit-cnc = { $bit }, für die CNC
stock-clamps = Zwingen, zugleich: { $clamps }, Spannweite { $open } und die Reste unter den Backen; { $cauls } weitere für die Zulagen beim zweiten Verleimen. Leim für alles: { $glue }.
stock-grits = Schleifmittel, Körnungen { $grits }; { $oil } { $product }.
stock-scrap = Zum Probieren der Griffmulden, vor dem Brett: Abfall { $thick } dick, { $long } lang, mindestens { $high } hoch, irgendein gesundes Holz, eben verleimt, wenn keines so dick da ist, zugerichtet, wenn das Brett besäumt ist, so dick wie dieses; in den Mengen oben ist es nicht enthalten.
stock-feet = Vier Füße für Löcher mit { $across } Durchmesser, { $depth } tief, und was sie hält.
stock-besides = Die Blätter verlangen auch: Zulagen, eine gerade Leiste, Bohrer; einen Walzenschleifer oder Frässchlitten, oder Handhobel und Richthölzer; am Frästisch einen Fuß- oder Knieschalter und einen hohen Anschlag.
machine-jointer = Abrichthobel
machine-planer = Dickenhobel
rip-to-line = Zuschnitt { $letter }, bevor er auf Breite kommt: am nahen Ende { $near }, am fernen { $far } abtrennen, gemessen auf { $face } von { $side } aus, damit seine Linie „{ $line }“ in der Ecke ausläuft. Dann die andere Seite parallel: { $left } bleibt.
rip-side-marked = der Seite der bezeichneten Ecke
rip-side-opposite = der Seite gegenüber der bezeichneten Ecke
rip-face-marked = der Fläche der bezeichneten Ecke
rip-face-opposite = der Fläche gegenüber der bezeichneten Ecke

# Dicke, Schritt für Schritt
thickness-title = Dicke, Schritt für Schritt
thickness-about = Was jeder Schritt nimmt und was er lässt. Dicke der Platte mal Zahl ihrer Streifen ist die Länge des Bretts: was von einer Platte abgehobelt wird, kostet Länge. Die letzte Spalte ist für Gemessenes.
thickness-decides = Zuschnitt { $letter } ist hier der dünnste und entscheidet.
thickness-step = Schritt
thickness-takes = nimmt
thickness-passes = Durchgänge
thickness-leaves = lässt
thickness-measured = gemessen
thickness-not-through = zu groß für diese Maschine
thickness-other-way = Was für eine Maschine zu groß ist, wird mit Handhobel und Richtscheiten geebnet oder mit der Oberfräse auf einem Schlitten; eine Platte kann auch in zwei Teilen verleimt werden, die hindurchgehen, gleich dick gehobelt und mit bündigen Flächen verbunden. Übliche Praxis, ohne Quelle.
thickness-a-pass = { $count ->
    [one] { $count } Streifen davon wird gelegt: ein voller Durchgang des Dickenhobels, { $pass }, kostet das Brett { $length } Länge.
   *[other] { $count } Streifen davon werden gelegt: ein voller Durchgang des Dickenhobels, { $pass }, kostet das Brett { $length } Länge.
}
thickness-may-be-planed = Darf von dieser Platte noch ab, wenn die Länge bleiben soll; unter 0: schon zu kurz
thickness-no-least = Der Plan verlangt keine Mindestlänge, also wird für sie nichts zurückbehalten: was von dieser Platte mehr abgehobelt wird als geplant, um das wird das Brett kürzer, so viele Male.
thickness-board = Das Brett
thickness-length = Fertige Länge, mit all dem
thickness-least = Mindestlänge, die der Plan verlangt
thickness-spare = Übrig; unter 0: zu kurz
stage-rough = roh
stage-one-face-jointed--the-other-planed = eine Fläche abgerichtet, die andere gehobelt
stage-panel-s-lower-face-planed = Unterseite der Platte gehobelt
stage-panel-s-upper-face-planed = Oberseite der Platte gehobelt
stage-strips-as-cut--glued = Streifen wie gesägt, verleimt
stage-lower-face-flattened = Unterseite abgerichtet
stage-upper-face-flattened = Oberseite abgerichtet
stage-both-faces-sanded = beide Flächen geschliffen

# Beide Enden
ends-title = Platte { $panel }: beide Enden mit Buchstaben
ends-about = Die Zuschnitte legen wie gezeichnet, Oberseite nach oben, Jahrringe und Splint wie im Bild. Der Punkt ist die bezeichnete Ecke am nahen Ende des Zuschnitts; wo an einem Ende kein Punkt ist, liegt dort sein fernes Ende.
ends-near = Am nahen Ende stehend, die Platte entlang gesehen
ends-far = Am fernen Ende stehend, zurück gesehen
ends-above = Von oben: die Oberseite
ends-triangle = Vor dem Leimen das Schreinerdreieck über die Oberseite zeichnen, Spitze zum fernen Ende: es zeigt Reihenfolge und Enden, bis die Fläche gehobelt ist.
ends-how = Wie jeder Zuschnitt liegt
ends-place = Platz
ends-lies = wie er liegt
ends-begins = beginnt, vom nahen Ende, bei
ends-turns = Gezählt wird vom ersten Zuschnitt: rechts, wenn man am nahen Ende steht. Wie gelegt: die bezeichnete Ecke am nahen Ende unten rechts. Von da: umgewälzt, um seine Länge gedreht; Ende für Ende, gedreht bei gleicher Fläche oben; Ende über Ende, gedreht, die andere Fläche oben.
ends-quarter-roll = Eine Viertelwälzung kommt zuerst: um die Länge des Zuschnitts, im Uhrzeigersinn vom nahen Ende gesehen.
quarter-roll = Viertelwälzung
quarter-roll-then = Viertelwälzung, dann { $turn }
turn-as-laid = wie gelegt
turn-as-cut = wie gesägt
turn-rolled-over = umgewälzt
turn-end-for-end = Ende für Ende
turn-end-over-end = Ende über Ende

# Verleimen
glue-first-title = Platte { $panel }: erste Verleimung
glue-second-title = Zweite Verleimung: das Brett
glue-lines = { $count ->
    [one] Eine Leimfuge.
   *[other] { $count } Leimfugen.
}
glue-lines-area = { $count ->
    [one] Eine Leimfuge: { $area }.
   *[other] { $count } Leimfugen, zusammen { $area }. Zwingen wirken hintereinander: die größte, { $largest }, bestimmt die Kraft, nicht die Summe.
}
glue-quantity = Leim insgesamt, auf eine Fläche jeder Fuge
glue-clamps = Zwingen, oben und unten im Wechsel, mindestens
glue-clamp-spacing = Zwischen Zwingen, gleichmäßig; was übrig ist, je zur Hälfte an den Enden
glue-force = Kraft aller Zwingen zusammen
glue-force-each = Kraft jeder Zwinge
glue-working = Verarbeitungszeit, bis zur letzten Zwinge; das Etikett geht vor
glue-slips = Streifen, die so weit rutschen, wie der Plan sagt, kosten vorn und hinten je { $trim } vom Beschnitt; was übersteht, kostet { $flatten } beim Abrichten.
goes-blanks = Zuschnitte { $which }, nach Platz
goes-strips = Streifen { $which } von links
glue-side-grain = Jede Leimfläche ist hier Langholz an Langholz: das Hirnholz schaut nach oben und unten, an keiner Fuge.
glue-too-wide = Diese Platte ist { $wide } breit, dein Dickenhobel nimmt { $widest }. In zwei Teilen verleimen, die beide hindurchgehen, gleich dick hobeln, dann beide mit bündigen Flächen zusammenleimen; oder ganz verleimen und mit Handhobel und Richtscheiten oder mit der Oberfräse auf einem Schlitten ebnen.
glue-dry = Trocken zusammenlegen. Reihenfolge und Enden mit dem Dreieck vergleichen. Nahe Enden bündig an einem Anschlag. Die Fugen schließen von Hand.
glue-dry-slipped = Trocken zusammenlegen. Reihenfolge und Enden mit dem Dreieck vergleichen. Nahe Enden bündig an einem Anschlag; die Liste der Enden sagt, welcher Zuschnitt weiter innen beginnt, und wo. Die Fugen schließen von Hand.
glue-spread = Leim auf eine Fläche jeder Fuge, gleichmäßig, von Kante zu Kante.
glue-clamp = Von der Mitte nach außen Zwingen ansetzen, abwechselnd oben und unten, sauberes Abfallholz unter die Backen, bis überall eine dünne Perle austritt.
glue-scrape = Wenn der ausgetretene Leim wie Gummi ist, abziehen.
glue-after = Platte { $panel }: wenn der Leim ausgehärtet ist
glue-trued-first = Von der Außenkante des ersten Zuschnitts ab
glue-trued-last = Von der Außenkante des letzten Zuschnitts ab
glue-planed-lower = Von der Unterseite abhobeln
glue-planed-upper = Von der Oberseite abhobeln
glue-panel-thick = Platte danach: dick
glue-panel-wide = Platte danach: breit
glue-edges-first = Verleimt ist die Platte so breit, wie der Dickenhobel nimmt, oder breiter. Zuerst mit Handhobel oder Schlitten eine Fläche so weit ebnen, dass sie anliegt.
glue-edges-check = Am Ende prüfen, ob die Kante des ersten Zuschnitts noch winklig zu beiden Flächen ist.
glue-flatten-face = Eine Fläche abrichten.
glue-flatten-wide = Die Platte ist breiter, als deine Abrichte nimmt ({ $widest }): eine Fläche mit Handhobel und Richtscheiten ebnen oder mit der Oberfräse auf einem Schlitten; oder im Dickenhobel, die Platte auf einem ebenen Brett so unterkeilt, dass sie weder kippelt noch rutscht.
glue-plane-other = Die andere Fläche parallel dazu hobeln. Wo deine Maschine an den Enden einschlägt, Abfall, ebenso dick, davor und dahinter.
glue-against-grain = Die Fasern steigen hier nach beiden Seiten: leichte Durchgänge, scharfe Messer.
glue-plane-wide = Die Platte ist breiter, als dein Dickenhobel nimmt: die andere Fläche ebenso parallel arbeiten, nach Risslinien auf allen vier Kanten.
glue-joint-edge = Eine Längskante gerade und winklig zur ebenen Fläche fügen, so viel ab wie unten gesagt.
glue-rip-edge = Die andere Längskante parallel dazu auftrennen, auf die Breite unten.
glue-rail = Eine gerade gewachste Leiste auf die Bank schrauben, oben höher als die Zwingen und Zulagen darunter und niedriger als die Oberseite der Streifen: das vordere Ende jedes Streifens, das im Legebild zu dir zeigt, steht daran.
glue-cauls = Zulagen einwachsen, gerade, eine Hand länger, als was der Durchgang verbindet (alle Streifen: { $long }). Quer über die Fugen, eine oben und eine unten, an jedem Ende eine Zwinge: Paare hier { $pairs } (übliche Praxis, ohne Quelle), Zwingen { $clamps }
glue-rail-slid = Ein versetzter Streifen steht von der Leiste ab: dort ein Klötzchen einlegen, so lang, wie das Legeblatt sagt.
glue-dry-strips = Alle Streifen trocken nach dem Legeblatt legen; die schrägen Striche an beiden Kanten vergleichen. Einen geraden Bleistiftstrich über alle Streifen ziehen: einer, der rutscht, unterbricht ihn.
glue-goes = Mehr Fugen, als in die Verarbeitungszeit ({ $working }) passen: in { $count } Durchgängen leimen, in dieser Folge, jeder mit allen Schritten unten. Was ein späterer verbindet, kommt vorher aus den Zwingen.
go-alone = In einem Durchgang: { $members }; { $count ->
    [one] eine Fuge
   *[other] { $count } Fugen
}, { $takes }, { $glue } Leim.
go-of-several = Durchgang { $go }: { $members }; { $count ->
    [one] eine Fuge
   *[other] { $count } Fugen
}, { $takes }, { $glue } Leim.
glue-lay = Die Streifen von links nach rechts legen, jeden mit dem vorderen Ende an die Leiste.
clock-off = Zwingen ab frühestens (+{ $after })
clock-glue-on = Leim um
clock-clamped = Letzte Zwinge bis (+{ $after })
clock-plane = Hobeln ab (+{ $after })
clock-flatten = Abrichten, schleifen ab (+{ $after })
measure-panel = Gemessen: Dicke der Platte, Mittel aus vier Ecken
measure-panel-hangs = Geplant: { $thick }; das verleimte Brett wird damit { $long } lang. Je { $mark } dicker oder dünner wird es um { $more } länger oder kürzer.
measure-panel-share = Geplant: { $thick }; damit trägt diese Platte { $long } zur Länge des verleimten Bretts bei. Je { $mark } dicker oder dünner wird das Brett um { $more } länger oder kürzer.
measure-length = Gemessen: Länge des verleimten Bretts
measure-length-hangs = Geplant: { $length }. Um so viel mehr oder weniger wird das fertige Brett länger oder kürzer.

# Säge
saw-title = Platte { $panel } an der Säge
saw-counted = Gesägt und gezählt: { $count } Streifen, { $width } breit.
saw-mark = Platte zeichnen: ein schräger Strich auf die Kante des ersten Zuschnitts, zwei nebeneinander auf die des letzten, jeder von der Unterseite am nahen Ende zur Oberseite am fernen Ende.
saw-which-face = Das Schreinerdreieck ist abgehobelt. Das nahe Ende an sein Bild auf dem Blatt beider Enden halten: Buchstaben in derselben Folge, Punkte an denselben Stellen, und die Oberseite ist oben.
saw-lay = Die Platte auf den Schlitten legen: Oberseite nach oben, die Kante des ersten Zuschnitts an dessen Leiste, das nahe Ende zum Anschlag.
saw-square = Das nahe Ende winklig schneiden. Dort geht vor dem ersten Streifen, samt der Schnittfuge, verloren: { $lost }
saw-waste-block = Den Verlängerungsklotz am fernen Ende befestigen: mit ihm bleibt auch bei den letzten Schnitten ein Stück, das lang genug zum Halten ist. So dick wie die Platte, { $block } lang in ihrer Länge, möglichst so breit wie sie; mit doppelseitigem Klebeband oder Leim, nie eine Schraube im Weg des Blatts. Enden die Zuschnitte nicht bündig, zuerst das ferne Ende winklig schneiden: nicht mehr ab, als dafür nötig.
saw-stop = Den Anschlag am Schlitten wie gezeichnet setzen, Stecker gezogen, mit Maßstab oder Klotz, zu einem Zahn des stehenden Blatts. Einer, der sich zum Anschlag neigt, ist der nähere; einer, der sich von ihm weg zur Platte neigt, der fernere: Streifen und deine Schnittfuge zusammen. Beides gibt denselben Streifen; verwechselt, ist jeder um eine Schnittfuge falsch.
saw-stop-near = Anschlag, wie geplant, zum näheren Zahn: der Streifen allein
saw-stop-far = Anschlag, wie geplant, zum ferneren Zahn: Streifen und Schnittfuge
saw-width = Streifen dann, wie geplant
saw-safe-stop-near = Größter sicherer Anschlag, zum näheren Zahn
saw-safe-stop-far = Größter sicherer Anschlag, zum ferneren Zahn
templates-stop-near = Säge, Platte { $panel }: Anschlag zum näheren Zahn
templates-stop-far = Säge, Platte { $panel }: Anschlag zum ferneren Zahn
saw-drawn = Von oben, nicht maßstäblich, die Leiste auf deiner Seite. Liegt deine Leiste jenseits der Platte, das Blatt umdrehen: dann stehst du, wo jetzt oben ist, und Anschlag und nahes Ende sind rechts von dir.
saw-drawn-fence = Leiste des Schlittens: Kante des ersten Zuschnitts
saw-drawn-stop = Anschlag
saw-drawn-strip = Streifen
saw-drawn-panel = Platte, Oberseite oben
saw-drawn-blade = Blatt
saw-drawn-waste = Klotz
saw-drawn-near = zum näheren Zahn: der Streifen
saw-drawn-far = zum ferneren Zahn: Streifen und Schnittfuge
saw-drawn-you = hier stehst du, neben der Linie des Blatts
saw-safe-says = Größter sicherer Anschlag: weiter, und die Wahrscheinlichkeit eines schmalen letzten Streifens ist über { $limit }, der Grenze im Plan. Näherer und fernerer Zahn wie oben. Die breitesten Streifen der anderen Anzahlen, zuletzt aufgeführt, lassen dafür nichts.
saw-kerf = Schnittfuge: ist deine anders, ändert sich das Maß zum ferneren Zahn um ebenso viel
saw-chance = Wahrscheinlichkeit, dass der letzte Streifen schmal wird
saw-brush = Vor jedem Schnitt den Anschlag sauber bürsten: ein Span dort macht den nächsten Streifen schmal.
saw-cut = { $count } Streifen sägen, { $width } breit, in { $cuts } Schnitten.
saw-cut-three = Drei Streifen sägen, { $width } breit.
saw-cut-others = Dann die anderen { $left } sägen und weiter nummerieren: { $count } Streifen im Ganzen, in { $cuts } Schnitten.
saw-number = Jeden Streifen sofort nummerieren, auf der Schnittfläche zum fernen Ende der Platte hin, Fuß der Ziffer zur Unterseite der Platte.
saw-number-panel = Den Buchstaben der Platte vor die Nummer schreiben: { $panel } 1, { $panel } 2. So nennt das Legeblatt die Streifen.
saw-alike = Diese Streifen liegen zwischen denen der Platten davor: von jenen drei messen, die nach dem letzten Verstellen geschnitten sind, und den Anschlag auf dieselbe Breite stellen, auch wo es nicht die geplante ist: was drei von ihnen zusammen messen, gilt beim dritten Streifen statt des geplanten Maßes. Ungleich breite Streifen stehen gegeneinander vor, und das Ebnen muss es wegnehmen.
saw-last-left = Der letzte Streifen ist, was nach der letzten Schnittfuge bleibt.
saw-last-freed = Der letzte dieser Schnitte trennt den letzten Streifen frei.
saw-held-down = Platte und Streifen hält bei jedem Schnitt ein festgespannter Niederhalter. Nichts Kürzeres als { $least } wird gesägt.
saw-held-by-hand = Die Platte wird bei jedem Schnitt von Hand auf dem Schlitten gehalten. Nichts Kürzeres als { $least } wird gesägt.
measure-third = Gemessen: die ersten drei Streifen, zusammengeschoben
measure-third-hangs = Geplant: { $planned }. Zuerst: etwa { $mixed } heißt, die beiden Zähne wurden verwechselt: { $then } Sonst: bis { $stack } gehen sich alle Streifen aus, der Anschlag bleibt; ein Drittel dessen, was dein Stapel mehr ist, ist jeder breiter und das Brett dicker. Über { $stack }: messen, was von der Platte übrig ist, vom Schnitt an, ohne den Verlängerungsklotz, davon { $lost } abziehen, durch { $left } teilen: breiter darf kein weiterer Streifen werden; um so viel, wie ein Drittel deines Stapels mehr ist, den Anschlag näher ans Blatt. Ist es weniger als geplant: den Anschlag lassen, alle Streifen so schmal, das Brett wird um so viel dünner; weiter hinaus nur, um diese drei noch einmal zu schneiden: der schmalste Streifen macht das Brett.
third-mixed-leave = dann den Anschlag lassen, alle Streifen so breit, das Brett um eine Schnittfuge dicker.
third-mixed-anew = dann den Anschlag neu einstellen und diese drei auf Breite schneiden.
saw-starts = Vom winkligen Ende bis zum Anfang jedes Streifens
saw-counts = Andere Anzahlen aus Platte { $panel }
saw-count = Streifen
saw-count-length = Brett lang
saw-count-length-alone = Brett allein daraus, lang
saw-count-widest = breitester Streifen
saw-count-thick = Brett dick
saw-count-remains = übrig
saw-count-waste = Verschnitt
saw-count-safe = haltbare Schnitte
saw-counts-say = Breitester Streifen: braucht die ganze Platte auf. Übrig: bei der geplanten Breite; unter 0 gehen so viele nicht. Verschnitt, von der Länge der Platte: Schnittfugen, Enden, Übriges. Haltbare Schnitte: von den breitesten, bevor das Stück zu kurz ist.
saw-counts-alone = Brett allein daraus: so lang, wie ein Brett nur aus Streifen dieser Platte wäre; das ganze Brett hat auch die der anderen Platten.

# Legen
layup-title = Legeblatt: Schauseite oben
layup-about = Von oben gesehen, vorn stehend. Über jedem Streifen steht seine Nummer von der Säge, auf ihm, wie er gedreht ist.
layup-drawn = Die Streifen, wie sie auf der Bank liegen, noch nichts besäumt. Gestrichelt: wo das verleimte Brett besäumt wird.
layup-lay = Die Streifen von links nach rechts legen wie gezeichnet, jeden gedreht, wie es auf ihm steht.
layup-compare = Die schrägen Striche an der hinteren und vorderen Kante mit dem Bild vergleichen. Nahe der Mitte eines Strichs sehen zwei Drehungen gleich aus: dort sagt es nur die Nummer auf der Schnittfläche.
layup-edge-back = Hintere Kante, hochgeklappt: Blatt um 180° drehen, so sieht sie von hinten aus
layup-edge-front = Vordere Kante, von vorn gesehen
layup-list = Platz für Platz, von links
layup-cell = { $place }:  Streifen { $strip }, { $turn }
layup-list-staggered = Zuletzt, wie weit der Streifen nach hinten versetzt ist.
layup-turns = Wie gesägt: die Schnittfläche zum fernen Ende der Platte ist oben, der erste Zuschnitt hinten. Von da: umgewälzt, um die lange Achse des Streifens; Ende für Ende, stehend, dieselbe Fläche oben; Ende über Ende, um die Länge des Bretts. Die Nummer auf der fernen Schnittfläche ist wie gesägt und Ende für Ende oben, umgewälzt und Ende über Ende unten.
edge-front = Vorderkante
edge-back = Hinterkante
edge-left = linke Kante
edge-right = rechte Kante
side-front = vorn
side-back = hinten
side-left = links
side-right = rechts
end-front = vordere
end-back = hintere
end-left = linke
end-right = rechte
corner-front = vorderen
corner-back = hinteren
corner-left = linken
corner-right = rechten
face-upper = Oberseite
face-lower = Unterseite

# Ebnen
flatten-title = Das Brett ebnen
flatten-check = Vorn, hinten, links und rechts auf die Kanten schreiben, und einen Pfeil zur Schauseite; nach jedem Schnitt an einer Kante neu anzeichnen. Auf ebenem Tisch an den vier Ecken prüfen, ob es kippelt. Eine Fläche ebnen, dann die andere parallel, bevor die Kanten geschnitten werden: leichte Durchgänge mit dem Walzenschleifer, oder mit dem Frässchlitten auf ebenen Schienen, das Brett so verkeilt, dass es weder kippelt noch rutscht, vom Rand nach innen. Abnehmen, was unten steht, bis beide Flächen eben sind: ein Brett, dessen Streifen breiter wurden, bleibt um so viel dicker.
flatten-glued = Wie verleimt: dick
flatten-upper = Von der Oberseite ab
flatten-lower = Von der Unterseite ab
flatten-thick = Brett danach: dick
flatten-sanded = Später, geschliffen: dick
measure-board = Gemessen: Dicke des Bretts
measure-board-hangs = Geplant: { $flattened }, geschliffen { $thickness }.
measure-board-handholds = Geplant: { $flattened }, geschliffen { $thickness }. Es kommt in das Feld auf dem Blatt jedes Griffs, das sagt, was davon abhängt.
square-title = Winklig schneiden
square-first = Eine lange Kante auf dem Schlitten oder an einer geraden Leiste schneiden, dann die Enden winklig dazu auf dem Schlitten, dann die andere Kante parallel am Anschlag. Was an jeder wegkommt, die Schnittfuge darin, steht unten.
square-glued-length = Wie verleimt: lang
square-glued-width = Wie verleimt: breit
square-left = Vom linken Ende ab
square-right = Vom rechten Ende ab
square-front = Von der vorderen Kante ab
square-back = Von der hinteren Kante ab
square-length = Brett danach: lang
square-width = Brett danach: breit
square-narrowest = Der schmalste äußere Streifen oder Zuschnitt, der bleibt: { $narrowest }.
measure-square-length = Gemessen: Länge, von links nach rechts
measure-square-width = Gemessen: Breite, von vorn nach hinten
measure-square-hangs = Die Anschläge für Griffmulden und Fräsungen gelten für das Brett wie geplant: was mehr oder weniger ist, kommt in den Plan, oder auf die Anschläge, wie deren Blätter sagen.

# Griffe
handhold-title = Griffmulde: { $edge }
measure-edge = Gemessen: diese Kante, besäumt
measure-edge-hangs = Geplant: { $planned }. Um so viel länger: beide Klötze um so viel weiter weg vom Fräser. Um so viel kürzer: um so viel näher. Die Mulde wird um so viel länger oder kürzer.
measure-thick-fence = Geplant: { $planned }. Die Hälfte dessen, was es dicker ist: jeder Platz des Anschlags um so viel weiter weg vom Fräser{ $bored }, beide Stege um so viel dicker. Die Hälfte dessen, was es dünner ist: um so viel näher, und dünner.
measure-thick-by-hand = Geplant: { $planned }. Die Hälfte dessen, was es dicker ist: die Mitte des Fräsers an jedem Platz um so viel weiter weg von der Unterseite{ $bored }, beide Stege um so viel dicker. Die Hälfte dessen, was es dünner ist: um so viel näher, und dünner.
measure-thick-bored = , auch die Bohrung
handhold-bit = Fräser: { $bit }, { $across } Durchmesser, Eckradius { $corner }.
handhold-bit-centre = Er geht senkrecht ins Holz: er muss in der Mitte schneiden, wie der Plan es sagt. Nachsehen, bevor etwas auf ihn gesenkt wird.
handhold-depth = Mulde: tief
handhold-width = Mulde: breit
handhold-length = Mulde: lang
handhold-opening = Mit gebrochener Kante: breit
handhold-lip-above = Steg darüber
handhold-lip-below = Steg darunter
handhold-lips-say = Stege: am fertigen Brett neben der Mulde, ihr eigener gebrochener Rand schon abgezogen, wo sie einen hat, die Ränder des Bretts nicht; abgerundet, wo sie auf keinen Strich fallen.
handhold-rim = Rand, wenn die Mulde fertig ist: { $easing } von { $size }. Die Kante ist schmal für eine Fräse: das Brett senkrecht zwischen zwei winkligen Brettern, deren Kanten bündig mit seiner, damit die Grundplatte nicht kippt; ein Anlauflager schmaler als die Mulde an ihrer Wand, im Uhrzeigersinn, wenn du in die Mulde siehst, in leichten Durchgängen. Sonst von Hand mit Feile und Papier.
handhold-rim-by-hand = Rand, wenn die Mulde fertig ist: { $easing } von { $size }, von Hand mit Feile und Papier: darunter bleibt zu wenig senkrechte Wand für einen Anlauflager.
handhold-bore = Stecker gezogen. Zuerst in den Abfall, dann ins Brett: am Anfang der Mulde ein Loch in die Kante bohren, { $across } Durchmesser, { $depth } tief in voller Weite (die Spitze lässt ihre Spur im Grund), seine Mitte { $along } von der { $end } Ecke und { $up } von der Unterseite, wie sie jetzt ist. Aufrecht und fest, Holz- oder Forstnerbohrer, ein Anschlag am Bohrer. Den Fräser ansehen: das Loch muss weiter sein, als er in der Mitte nicht schneidet.
easing-round-over = Rundung
easing-chamfer = Fase
table-title = Am Frästisch
table-set = Stecker gezogen. Du stehst davor, der Anschlag liegt hinter dem Fräser. Den Fräser auf seine letzte Höhe stellen. Danach Anschlag und Klötze einstellen, festspannen, daran ziehen; Tisch und Anschlag reichen { $long } von Klotz zu Klotz, dazu die Klötze; dann den Fräser auf die erste Höhe senken. Nähere Schneide: die Schneide zum Klotz oder Anschlag gedreht, auf Höhe der Tischfläche, der Fräser auf seiner letzten Höhe.
table-what = einstellen, vom Fräser
table-from-centre = von seiner Mitte
table-from-nearer = von seiner näheren Schneide
table-right-stop = Rechter Klotz (Anfangsklotz)
table-left-stop = Linker Klotz
table-fence = Anschlag: jetzt so einstellen
table-height = Fräserhöhe, Durchgang { $pass }
table-marks = Zwei Bleistiftstriche auf den Tisch oder auf Klebeband, vor dem Brett, in der Flucht der beiden Schneiden, und zwei auf die Schauseite: { $first } von der { $left } Ecke, { $second } von der { $right } Ecke. Die Mulde läuft von Strich zu Strich. Ein Druckkamm vor dem Fräser, rechts von ihm, drückt das Brett an den Anschlag.
table-scrap = Auf Abfall probieren, so dick wie das Brett jetzt ist, die Kante so lang, mindestens { $high } hoch{ $bored }: nie ein loser Streifen. Alle Durchgänge, genau wie in den Schritten unten, samt Fußschalter; dann messen, die Stege geändert wie im Feld der Dicke: Steg darunter { $below }, Steg darüber { $above } an beiden Enden der Mulde; ihre Enden { $first } und { $second } von den Ecken; tief { $deep }. Ist der untere Steg zu dick, den Anschlag um so viel näher an den Fräser; zu dünn: um so viel weiter weg. Dann noch einmal probieren, auf frischem Abfall.
table-scrap-places = Auf Abfall probieren, so dick wie das Brett jetzt ist, die Kante so lang, mindestens { $high } hoch{ $bored }: nie ein loser Streifen. Alle Höhen an allen Plätzen, genau wie in den Schritten unten, samt Fußschalter; dann messen, die Stege geändert wie im Feld der Dicke: Steg darunter { $below }, Steg darüber { $above } an beiden Enden der Mulde; ihre Enden { $first } und { $second } von den Ecken; tief { $deep }. Platz A macht den unteren Steg: zu dick, der Anschlag um so viel näher an den Fräser; { $last } den oberen: zu dick, der Anschlag um so viel weiter weg. Dann noch einmal probieren, auf frischem Abfall.
table-scrap-bored = , gebohrt wie das Brett
table-reset = Nach dem Abfall, für das Brett: Stecker ziehen, der Fräser zurück auf die erste Höhe, beide Klötze geprüft.
table-reset-places = Nach dem Abfall, für das Brett: Stecker ziehen, der Fräser zurück auf die erste Höhe, der Anschlag zurück an A, beide Klötze geprüft.
table-lower = Das Brett hochkant stellen, unten: { $edge }. Unterseite an den Anschlag, Schauseite zu dir; das { $left } Ende ist dann links vor dir. Das { $right } Ende, rechts vor dir, an den Anfangsklotz, das { $left } angehoben. Hände an der oberen Kante, an den beiden Enden, hoch über dem Fräser. Fräse einschalten. Das Brett auf den Fräser senken.
table-feed = Von rechts nach links schieben, nie zurück, bis zum linken Klotz.
table-off = Am linken Klotz still halten, beide Hände am Brett, mit Fuß oder Knie ausschalten, warten, bis der Fräser steht, abheben. Früher aufhören: ebenso; nie ein Brett vom laufenden Fräser heben.
table-next = Stecker ziehen, Fräser für den nächsten Durchgang höher stellen, wieder am Anfangsklotz beginnen.
table-wider = Alle Höhen an A gefräst: Stecker ziehen, Fräser auf die erste Höhe, den Anschlag an den nächsten Platz rücken, an beiden Enden von der Tischkante gemessen, damit er parallel bleibt, oder mit einem Zwischenstück; den Druckkamm nach; die Abstände beider Klötze vom Fräser noch einmal prüfen; dann alle Höhen noch einmal. Wo zwei Plätze sich treffen, bleibt an beiden Enden der Mulde { $cusp } stehen: wegschleifen.
table-ridge = Das Ende des Fräsers ist rund: wo zwei Plätze sich treffen, bleibt ein Grat von { $ridge } den ganzen Grund entlang: abziehen.
table-over-cut = Beim Einschwenken wird der Anfang der Mulde um höchstens { $over } länger; waagerecht gesenkt um nichts.
table-places = Diese Mulde ist breiter als der Fräser: der Anschlag steht nacheinander an den Plätzen A bis { $last }, jedes Mal weiter vom Fräser. Zuerst alle Höhen mit dem Anschlag an A. Die Klötze bleiben.
table-fence-place = Anschlag, Platz { $place }
drawn-fence = hoher Hilfsanschlag
drawn-starting-stop = Anfangsklotz (rechter Klotz)
drawn-left-block = linker Klotz: hier endet der Schnitt
drawn-hand = Hand
drawn-feed = Vorschub
drawn-you = hier stehst du
drawn-pass = Durchgang { $pass }:
drawn-datum = Nullpunkt
drawn-clamp = Spanner
drawn-above = Von oben, maßstäblich. Durchgezogen: das Brett, wenn der Schnitt beginnt; gestrichelt: wenn er endet. Obere Maße: von der Fräsermitte; untere: von ihren näheren Schneiden an der Tischfläche, der Fräser auf seiner letzten Höhe.
drawn-above-moved = Von oben, maßstäblich. Durchgezogen: das Brett, wenn der Schnitt beginnt, der Anschlag an A; gestrichelt: das Brett, wenn der Schnitt endet, und wohin der Anschlag rückt. Obere Maße: von der Fräsermitte; untere: von ihren näheren Schneiden an der Tischfläche, der Fräser auf seiner letzten Höhe.
drawn-across = Quer zum Vorschub, in wahrer Größe, von links gesehen: Anschlag, Brett, der Fräser in jedem Durchgang. Der Abstand des Anschlags gilt für das Brett, wie es jetzt ist.
drawn-across-moved = Quer zum Vorschub, in wahrer Größe, von links gesehen: Anschlag, Brett, der Fräser in jedem Durchgang. Durchgezogen: mit dem Anschlag an A; gestrichelt: wo der Fräser im Brett ist, wenn der Anschlag an { $last } steht, auf der letzten Höhe.
drawn-cnc = Maßstäblich, von oben, X nach rechts. Hell: was geschnitten wird. Ring mit Pfeilen: der Nullpunkt.
drawn-waste = Abfall
drawn-cnc-level = Maßstäblich, von oben, X nach rechts. Die ganze Fläche wird geschnitten, rundherum vom Rand nach innen (gestrichelt), sodass die Schneiden von außen ins Holz kommen. Ring mit Pfeilen: der Nullpunkt.
drawn-edge = An der Kante entlang gesehen, vom Nullpunkt her, Y nach links, alles in einem Maßstab, der Fräser ganz unten. Gestrichelt: so hoch lässt sich die Spitze heben. Bei stehender Spindel von Hand über die ganze Fräsung fahren und schauen, ob etwas von ihr Backen oder Schrauben nahe kommt.
drawn-edge-no-spindle-known = An der Kante entlang gesehen, vom Nullpunkt her, Y nach links, alles in einem Maßstab, der Fräser ganz unten. Gestrichelt: so hoch lässt sich die Spitze heben, und die Spindel, deren Maße der Plan nicht nennt. Bei stehender Spindel von Hand über die ganze Fräsung fahren und schauen, ob etwas von ihr Backen oder Schrauben nahe kommt.
drawn-edge-clear = so hoch lässt sich die Spitze heben: { $far }
drawn-edge-spindle = Spindelkörper, { $wide } breit
drawn-edge-no-spindle = Spindel: nicht genannt, also nicht geprüft
drawn-edge-nut = Mutter, { $wide } breit
drawn-edge-nut-high = Mutter, { $wide } breit, { $high } unter der Spindel
drawn-edge-no-nut = Mutter: keine Breite genannt, also nicht geprüft
drawn-edge-bit = Fräser, { $out } aus der Mutter
drawn-edge-bit-least = Fräser, mindestens { $out } aus der Mutter
drawn-edge-deepest = am tiefsten: { $deep } unter der Kante
drawn-edge-jaw = Spanner: die Kante steht { $far } heraus
drawn-edge-jaw-above = Spanner, bis { $far } über der Kante
drawn-edge-no-jaw = senkrechter Spanner: der Plan nennt keinen Ort
drawn-edge-stands = worauf die andere Kante steht
plunge-title = Mit der Oberfräse
plunge-set = Nicht am Frästisch: diese Kante ist zu kurz, oder das Brett steht zu niedrig, um auf einen laufenden Fräser gesenkt zu werden. Das Brett aufrecht zwischen zwei winklige Bretter spannen, Oberkanten bündig, ein Anschlag für die Fräse an jedem Ende.
plunge-stop = Fräsermitte hält, von der { $end } Ecke
plunge-across = Fräsermitte, von der Unterseite, wie sie jetzt ist
plunge-depth = Tiefe, Durchgang { $pass }
plunge-places = Diese Mulde ist breiter als der Fräser: seine Mitte läuft nacheinander an den Plätzen A bis { $last }. Zuerst alle Tiefen an A, dann alle Tiefen am nächsten Platz.
plunge-across-place = Fräsermitte, Platz { $place }, von der Unterseite, wie sie jetzt ist
cnc-title = Stattdessen auf der CNC
cnc-program = Stattdessen auf der CNC: { $file }. Wie aufgespannt wird: siehe die CNC-Blätter.
cnc-no-program = Kein Programm für die CNC: siehe das erste Blatt, „Was Sorgfalt braucht“.
cnc-levelling = Stattdessen auf der CNC, { $face }: { $file }. Wie aufgespannt wird: das Blatt „CNC: { $file }“.
cnc-no-levelling = Kein Programm für die CNC, { $face }: siehe das erste Blatt, „Was Sorgfalt braucht“.

# Aufspannungen der CNC
cnc-sheet-title = CNC: { $file }
cnc-sheet-says = X läuft nach rechts, Y von dir weg, Z nach oben, wie in den Programmen. Vorn, hinten, links und rechts gelten für das Brett mit der Schauseite oben. Die Blätter folgen in der Reihenfolge der Werkstatt. Misst ein Werkstück anders als auf seinem Blatt: in den Plan damit, und die Programme neu.
cnc-sanded = Dieses Programm rechnet mit geschliffenen Flächen: zuerst schleifen, bis auf die letzte Körnung, sonst liegt die Fräsung um das daneben, was noch darauf ist.
cnc-heading = Was es fräst: { $cuts }.
cnc-part = { $cut }:
cnc-level = Abrichten: { $face }
cnc-panel = Platte { $panel }, Abrichten: { $face }
cnc-outline = Umriss, bis auf die Stege
cnc-between = zwischen den Stegen, ganz durch
cnc-rim = { $easing }, Rand: { $face }
cnc-stock-x = Werkstück entlang X
cnc-stock-y = Werkstück entlang Y
cnc-stock-z = Es steht hoch
cnc-safe = Eilgang nur ab
cnc-lies-edge = Brett auf der Kante im senkrechten Spanner, die { $edge } oben und waagerecht (längs und quer mit dem Winkel prüfen): Unterseite zu dir, Schauseite von dir weg.
cnc-lies-flat = Brett flach auf ebener Opferplatte. Oben: { $face }. Zu dir: { $near }. Das linke Ende liegt links.
cnc-lies-panel-upper = Platte { $panel }, wie verleimt, flach auf ebener Opferplatte, Oberseite oben: das nahe Ende links, die Kante des ersten Rohlings zu dir. Unterlegen, bis sie nicht mehr kippelt.
cnc-lies-panel-lower = Platte { $panel }, wie verleimt, flach auf ebener Opferplatte, Unterseite oben: das nahe Ende links, die Kante des letzten Rohlings zu dir. Unterlegen, bis sie nicht mehr kippelt.
cnc-datum-edge = X0 am { $end } Ende dieser Kante, Y0 an der Unterseite, Z0 auf der Kante.
cnc-datum-flat = X0 am linken Ende, Y0 an der Kante zu dir, Z0 auf der Fläche, die oben liegt.
cnc-datum-panel = X0 am nahen Ende, Y0 an der Kante zu dir, Z0 auf der Fläche, die oben liegt.
cnc-datum-highest = Z0 an ihrer höchsten Stelle: mit dem Lineal suchen, oder an mehreren antasten.
cnc-datum-as-glued = Das Brett ist noch, wie verleimt: seine rohe Ecke ist der Nullpunkt, vorher wird nichts besäumt.
cnc-datum-pins = Wiederfinden: Anschlagstifte (Ringe), niedriger, als dort geschnitten wird; sie berühren die Kante zu dir bei X { $first } und X { $second }, das linke Ende bei Y { $end }. Von vorn nach hinten umdrehen: das linke Ende kommt an denselben Stift.
cnc-datum-again = Wiederfinden nach jedem Umspannen: dieselbe Ecke, dieselbe Fläche, X, Y und Z neu antasten.
cnc-held-edge = Schraffiert: die Spanner, die der Plan nennt; Fräser, Mutter und Spindel bleiben von ihnen frei, soweit der Plan ihre Maße nennt. Kein anderer im Weg des Fräsers.
cnc-clamps = Spanner und Anschläge, wie der Plan sie angibt, vom Nullpunkt aus ({ $unit }; Z an ihrer Oberseite): { $places }.
cnc-held-level = Spanner nur an den Seiten, jeder endet unter dem, was geschnitten wird. Der Fräser taucht außerhalb des Holzes ein und kehrt dort um: ringsum { $free } frei lassen.
cnc-held-outline = Den Rahmen aus Abfall festschrauben oder spannen, nie das Brett allein: an der schmalsten Stelle ist er { $frame } breit. In die Opferplatte darf geschnitten werden. Hell: bis auf die Stege; dunkel: dazwischen ganz durch.
cnc-held-outline-below = Brett und Rahmen von unten halten (doppelseitiges Band, Vakuum): der Rahmen aus Abfall, an der schmalsten Stelle { $frame } breit, ist zum Schrauben oder Spannen zu schmal. In die Opferplatte darf geschnitten werden. Hell: bis auf die Stege; dunkel: dazwischen ganz durch.
cnc-held-rim = Von unten gehalten (doppelseitiges Klebeband, Unterdruck) oder von Anschlägen, die niedriger sind, als der Rand tief ist; nichts auf der Fläche. Ringsum { $free } frei lassen; der Fräser taucht neben der Kante zu dir ein.
cnc-held-face = Spanner weiter vom Schnitt weg, als Fräser, Mutter und Spindel reichen, keiner im Weg des Eilgangs.
cnc-held-face-open = Spanner weiter vom Schnitt weg, als Fräser, Mutter und Spindel reichen, keiner im Weg des Eilgangs. Wo der Schnitt sich an einer Kante öffnet: ein Streifen Abfall, mindestens { $free } breit, bündig mit der Fläche, dicht angespannt oder angeklebt (schraffiert).
cnc-bit = Fräser { $place }: { $bit }, Durchmesser { $across }; seine Schneiden reichen { $reach } tief.
cnc-bit-straight = Gerade.
cnc-bit-corner = Eckenradius { $size }.
cnc-bit-round-over = Rundet um { $size }, ohne Anlauflager, die flache Spitze { $end } breit.
cnc-bit-chamfer = Ein Kegel von 45 Grad, { $size } davon, die flache Spitze { $end } breit.
cnc-bit-out = Aus der Spannmutter mindestens { $least }.
cnc-bit-out-set = Aus der Spannmutter { $out } (mindestens { $least }).
cnc-bit-change = Das Programm hält dafür an: Spindel steht, Stecker gezogen, wechseln, Z0 an derselben Fläche neu antasten.
cnc-run = Spindel: { $speed }; die Schneide läuft { $rim }. Vorschub { $feed }; abwärts { $ramp }, auf einer Rampe oder Wendel, wo der Fräser in der Mitte nicht schneidet. Vorschub je Zahn { $chip }, tiefster Durchgang { $pass }. Dauert höchstens { $time }.
cnc-wall-pass = An den Wänden bleiben { $takes } für einen leichten letzten Durchgang in jeder Tiefe.
cnc-passes = { $count ->
    [one] Ein Durchgang, bis zu dieser Tiefe unter der Fläche:
   *[other] { $count } Durchgänge, jeder bis zu dieser Tiefe unter der Fläche:
}
cnc-passes-some = { $count } Durchgänge bis zu diesen Tiefen unter der Fläche: { $first }, { $second } und gleichmäßig weiter bis { $before }, { $last }.

# Flächen
faces-title = Fräsungen in den Flächen, Ecken und Ränder
faces-turned = Links und rechts, vorn und hinten gelten für das Brett mit der Schauseite oben. Von vorn nach hinten umdrehen: links bleibt links.
faces-drawn = Gezeichnet, wie es vor dir liegt, maßstäblich: blass, was gefräst wird; gestrichelt, der Weg der Fräsermitte; schraffiert, Klötze aus Abfallholz; der Pfeil, der Vorschub. Alle Lagen gelten für die Fräsermitte.
faces-measures = Ist das Brett nicht ganz wie geplant: was von einer Kante oder Ecke gemessen wird, bleibt, der Weg dazwischen wird länger oder kürzer; der Drehpunkt eines Bogens bleibt in der Mitte zwischen beiden Enden der Fräsung.
cut-groove = Saftrille: { $face }
cut-spout = Ausguss: { $edge }
cut-finger-recess = Fingermulde: { $edge }
cut-feet = Vier Löcher für Füße
cut-hanging-hole = Aufhängeloch: { $edge }
cut-with = Oberfräse, Fräser: { $bit }. Zu fräsen von: { $face }.
cut-with-centre = Oberfräse, Fräser: { $bit }, der in der Mitte schneiden muss, wie der Plan es sagt. Zu fräsen von: { $face }.
cut-bit-diameter = Fräserdurchmesser
cut-depth = Tiefe
cut-width = Breite an der Fläche
cut-setback = Von der Kante zum näheren Rand der Rille
cut-fence = Von der Kante zur Fräsermitte
cut-fence-ends = Von der Kante zur Fräsermitte, an beiden Enden
cut-corner-radius = Ecken der Fräserbahn: Radius
cut-along = Mitte der Fräsung, vom { $end } Ende der Kante
cut-travel = Weg der Fräsermitte, gerade
cut-arc = Radius des Bogens der Fräsermitte
cut-pivot-out = Drehpunkt des Bogens: außerhalb der Kante
cut-pivot-along = Drehpunkt des Bogens: vom { $end } Ende
cut-setback-left = Ende der Fräsung, von der linken Ecke
cut-setback-right = Ende der Fräsung, von der rechten Ecke
cut-setback-front = Ende der Fräsung, von der vorderen Ecke
cut-setback-back = Ende der Fräsung, von der hinteren Ecke
cut-from-end = Von linker und rechter Kante
cut-from-side = Von vorderer und hinterer Kante
cut-from-edge = Von der Kante zu seiner Mitte
cut-drill = Bohren von: { $face }, das Brett festgespannt. Holz- oder Forstnerbohrer mit { $across } Durchmesser, im Bohrständer oder mit Führung. (Der Plan nennt den Fräser { $bit }: nur, wenn er in der Mitte schneidet.)
cut-drill-plunged = Bohren von: { $face }, das Brett festgespannt. Holz- oder Forstnerbohrer mit { $across } Durchmesser, im Bohrständer oder mit Führung. (Der Plan nennt den Fräser { $bit }, so breit wie das Loch: nur, wenn er in der Mitte schneidet, auch auf der CNC, wo er gerade eintaucht.)
cut-through = Ganz durch, auf ein untergespanntes Brett: damit die andere Fläche nicht ausbricht. Auf der CNC ein wenig in die Opferplatte.
cut-depth-now = Tiefe, jetzt einzustellen, von der ungeschliffenen Fläche
cut-depth-sanded = Tiefe, wenn die Fläche geschliffen ist
cut-middle-in = Von der Kante zur Fräsermitte, in der Mitte
cut-bit-left = Fräsermitte, von der linken Ecke
cut-bit-right = Fräsermitte, von der rechten Ecke
cut-bit-front = Fräsermitte, von der vorderen Ecke
cut-bit-back = Fräsermitte, von der hinteren Ecke
cut-way-long = Fräserbahn, von links nach rechts: lang
cut-way-wide = Fräserbahn, von vorn nach hinten: breit
cut-reach-in = Reicht auf der Fläche hinein, von der Kante
cut-reach-in-middle = Reicht in der Mitte hinein
cut-stands = Bleibt auf der Fläche zwischen Kante und Mulde stehen
cut-feed-groove = In einem Rahmen: im Uhrzeigersinn, von oben gesehen. Ein Parallelanschlag macht nur die Geraden: gegen den Uhrzeigersinn, an jedem Ende ein Halt.
cut-feed-spout = Von der Rille hinaus zur Kante, links vom Weg eine gerade Führung; ein Klotz aus Abfallholz ohne Metall bündig an die Kante gespannt (schraffiert): dort bricht nichts aus, und der Fräser läuft in ihn hinaus.
cut-feed-open = Eine offene Mulde: die Fräsermitte läuft so nah an der Kante, dass die Fräsung zur Seite offen ist. So schieben, dass das Brett links vom Weg liegt (Pfeil), auch die gerade Führung oder der Rahmen dort, an beiden Enden ein Anschlag für die Grundplatte. Ein Klotz aus Abfallholz ohne Metall, an die Kante gespannt, oben bündig mit der Fläche (schraffiert): er trägt die Grundplatte, hinterlegt die Fasern und wird angefräst.
cut-feed-closed = Eine geschlossene Nut: zwischen ihr und der Kante steht Holz. Ein Rahmen oder Führungen auf beiden Seiten, an beiden Enden ein Anschlag für die Grundplatte; in leichten Durchgängen hin und her, die Führung links vom Weg. Ein Klotz an die Kante gespannt, oben bündig mit der Fläche, trägt die Grundplatte.
cut-arched = Ihre Mitte liegt weiter innen als ihre Enden. Die Fräsermitte läuft auf einem Bogen, in leichten Durchgängen hin und her zwischen je einem Anschlag für die Grundplatte: ein Streifen Sperrholz an der Grundplatte als Zirkel, sein Stift im Drehpunkt, vom Stift zur Fräsermitte der Radius unten. Der Drehpunkt liegt außerhalb der Kante: auf Abfallholz, so dick wie das Brett, daran gespannt.
cut-arched-open = Sie ist zur Seite offen: ein Klotz aus Abfallholz ohne Metall an der Kante, oben bündig, wird angefräst.
cut-passes = Tiefen, jetzt einzustellen, Durchgang für Durchgang ({ $count })
cut-frame = Rahmen für { $rides }: Öffnung { $long } mal { $wide }, Eckradius { $corner }: die Fräserbahn und ringsum { $offset } mehr, die Hälfte dessen, was darin läuft; mit anderer Grundplatte oder Hülse eine andere Öffnung. In wahrer Größe in { $file }.
cut-frame-base = eine runde Grundplatte, { $across } Durchmesser
cut-frame-bush = eine Kopierhülse, { $across } Durchmesser
cut-frame-outside = Seine Innenkanten liegen { $from } außerhalb der Brettkanten: ringsum Abfallholz, so dick wie das Brett, fest dagegen geschraubt, der Rahmen darauf geschraubt.
cut-frame-inside = Seine Innenkanten liegen { $from } innerhalb der Brettkanten. Darauf gespannt oder geklebt, damit er nicht wandert.
cut-bore = Dieser Fräser schneidet in der Mitte nicht: nie senkrecht in volles Holz, er brennt und schleudert die Fräse weg. Schräg auf dem Weg hinunter, in Vorschubrichtung; oder vorher bohren, wo er eintaucht: { $across } Durchmesser, höchstens { $depth } tief.
cut-rim-by-hand = Der Rand, wenn die erste Körnung ihr Maß von der Fläche genommen hat: { $easing } von { $size }, von Hand mit Feile und Papier: darunter bleibt zu wenig senkrechte Wand für einen Anlauflager.
cut-rim = Der Rand, wenn die erste Körnung ihr Maß von der Fläche genommen hat: { $easing } von { $size }, der Anlauflager an der Wand, in leichten Durchgängen: in Rille, Nut oder Mulde immer mit der Wand links vom Weg. Der Anlauflager muss schmaler sein als die Fräsung; ist er es nicht, von Hand mit Feile und Papier.
outline-title = Ecken und Ränder, zuletzt
outline-after = Nach den Griffmulden: ihre Klötze gehen von scharfen Ecken aus.
outline-after-cnc = Auch nach den anderen Programmen der CNC auf den Blättern danach: sie finden das Brett an seinen scharfen Ecken.
outline-corners-cnc = Der Umriss von der CNC hat die Ecken schon gerundet.
outline-do-corners = Alle vier Ecken runden, von oben gesehen: mit Band- oder Stichsäge bis knapp an den Riss, dann bündig schleifen oder fräsen.
outline-do-rims = Die Ränder ringsum mit der Handoberfräse brechen, gegen den Uhrzeigersinn von oben gesehen, leichte Durchgänge, der Anlauflager an der Kante; das Brett so gehalten, dass es nicht rutscht. Am Frästisch dreht der Fräser, von dir gesehen, andersherum: dort das Brett von rechts nach links schieben, nie mit dem Fräser.
outline-do-rims-sanded = Die Ränder brechen, wenn die erste Körnung ihr Maß von den Flächen genommen hat, sonst werden sie kleiner: ringsum mit der Handoberfräse, gegen den Uhrzeigersinn von oben gesehen, leichte Durchgänge, der Anlauflager an der Kante; das Brett so gehalten, dass es nicht rutscht. Am Frästisch dreht der Fräser, von dir gesehen, andersherum: dort das Brett von rechts nach links schieben, nie mit dem Fräser.
outline-interrupted = Wo eine Fingermulde oder ein Ausguss die Kante öffnet, findet der Anlauflager nichts, und neben dem dünnen Steg eines Griffs fällt ein langer hinein: davor aufhören, dahinter wieder beginnen, und dort von Hand mit Feile und Papier fertig machen.
outline-corners = Ecken, von oben gesehen: Radius
outline-upper = Rand der Oberseite: { $easing }
outline-lower = Rand der Unterseite: { $easing }

# Oberfläche
finish-title = Schleifen und Oberfläche
sand-title = Schleifen
sand-first = Körnung { $grit }, bis jede Säge- und Frässpur weg ist. Keine spätere nimmt sie weg. Mindestens { $removes } von jeder Fläche.
sand-next = Körnung { $grit }, bis die Kratzer der vorigen weg sind: mindestens { $removes } von jeder Fläche.
sand-rims = Von Hand: jetzt die Ränder brechen, wie auf dem Blatt mit Fräsungen, Ecken und Rändern; dann weiter.
sand-cnc = Wo du die CNC nimmst: jetzt ihre Programme am fertigen Brett, die Ränder zuletzt; dann weiter.
sand-by-hand = Körnung { $grit }, von Hand in einer Richtung. Entstauben.
sand-handholds = Griffmulden von Hand, Ränder zuerst, mit denselben Körnungen.
sand-all = Alle Körnungen zusammen nehmen mindestens { $all } von einer Fläche. Die Maße dieser Blätter rechnen mit { $left }: die erste Körnung geht so lange, bis das fast weg ist, oder das Brett bleibt ein wenig dicker. Die Tiefen folgen aus der Größe der Körner und einem Drittel davon als Kratzertiefe: eigene Wahl, ohne Quelle.
sand-wet = Mit feuchtem Tuch wischen und trocknen lassen: die Fasern stellen sich auf.
oil-title = Öl und Wachs
oil-product = Geplant: { $product }. Für beide Flächen, alle Aufträge zusammen:
product-mineral-oil = Mineralöl
product-mineral-oil-and-wax = Mineralöl und Wachs
product-hardening-oil = härtendes Öl
oil-least = Mindestens
oil-most = Höchstens: so viel bereithalten
oil-hardens = Es härtet: jeden Auftrag trocknen lassen, wie das Etikett sagt, den letzten, bis nichts mehr riecht, bevor Lebensmittel darauf kommen.
oil-stays = Mineralöl härtet nicht: das Brett über Nacht stehen lassen, abwischen, was darauf steht, dann kann es benutzt werden.
oil-choose = Mineralöl, das für Lebensmittelkontakt verkauft wird, oder ein anderes Mittel, dessen Etikett das sagt. Keine Speiseöle: sie werden ranzig.
oil-coats = { $count ->
    [one] Flächen satt tränken, eine Viertelstunde warten, oder wie das Etikett sagt, abwischen: ein Auftrag. Alle Seiten gleich.
   *[other] Flächen satt tränken, eine Viertelstunde warten, oder wie das Etikett sagt, abwischen; { $count } Aufträge, über Nacht dazwischen, bis es nichts mehr aufnimmt. Alle Seiten gleich.
}
oil-wax = Trocken wischen, dann Öl mit Bienenwachs einreiben und polieren.
oil-feet = Nach der letzten Nacht: abwischen, was darauf steht, dann die Füße anbringen, wie ihr Hersteller sagt; auf Öl hält kein Leim.
# Wie es arbeitet
moves-title = Wie es arbeitet
moves-about = Holz quillt in feuchter Luft und schwindet in trockener, quer zur Faser: bei diesem Brett in Länge und Breite. Längs der Faser, in der Dicke, arbeitet es kaum.
moves-season = Jahreszeit
moves-temperature = Luft
moves-humidity = Feuchte
moves-moisture = Holzfeuchte kommt auf
season-winter = Winter
season-spring = Frühling
season-summer = Sommer
season-autumn = Herbst
moves-assumed = Der Plan nennt keine Jahreszeiten. Diese sind eine Annahme, ohne Quelle: ein geheiztes Haus ohne Luftbefeuchter. Eigene stehen im Plan unter seasons.
moves-made = Gebaut bei einer Holzfeuchte von { $made }; unter 0 schwindet das Brett:
moves-to = bis { $season }
moves-in-all = vom einen zum anderen
moves-length = Länge
moves-width = Breite
moves-drawn = Auf das Brett gezeichnet, Schauseite oben
moves-drawn-says = Linien laufen in der Richtung, in der ein Stück arbeitet: je dichter, desto mehr. In einem Zuschnitt ist das von Streifen zu Streifen anders, wie seine Jahrringe sich auf der Länge drehen. Dick, mit Nummern: die Leimfugen unten.
moves-disagree = Wo Nachbarn uneins sind
moves-reading = An Leimfuge 1 will dieses Stück ({ $wood }) { $wants } mehr als sein Nachbar ({ $other }), von { $dry } bis { $damp }, wären beide frei.
moves-reading-alike = An Leimfuge 1 will ein Stück ({ $wood }) { $wants } mehr als sein Nachbar, dessen Jahrringe anders liegen, von { $dry } bis { $damp }, wären beide frei.
moves-alike = Nachbarn arbeiten gleich: an keiner Leimfuge will einer { $least } mehr als der andere.
moves-rank = Leimfuge
moves-wants = will mehr um
moves-over = auf
moves-piece = dieses Stück
moves-than = als dieses
moves-named = { $wood } { $letter }, Streifen { $place }
moves-limit = Streifen zählen von links; das meiste zuerst. Über { $limit } ist es ein Befund: so sagt es die Grenze für movement im Plan.
moves-unknown = Für { $woods } ist hier kein Beiwert veröffentlicht: diese Stücke bleiben weiß.
moves-guessed = Wie die Jahrringe in manchen Stücken liegen, ist geraten: keines ihrer Enden wurde beschrieben.
moves-limits = Erste Näherung: was jedes Stück täte, wäre es frei. Ohne Schub in schräg liegenden Jahrringen, ohne Spannung von den Nachbarn und ohne die Wochen, in denen Feuchte eindringt. Beiwerte sind Mittel einer Holzart: ein Stück kann ein Fünftel daneben liegen.
moves-sources = Nach dem Wood Handbook (FPL-GTR-282), Gleichung 4-5 und Kapitel 13, und der Lage der Jahrringe in jedem Stück.

# Pflege
care-title = Pflegekarte
care-woods = Ein Hirnholzbrett aus { $woods }.
care-size = { $length } lang, { $width } breit, { $thickness } dick; etwa { $mass }.
care-finish = Behandelt mit: { $product }.
care-maker = Gemacht von
care-date = Datum
care-wash = Von Hand waschen und gleich trocken wischen. Nie in die Spülmaschine, nie im Wasser liegen lassen.
care-dry = Hochkant trocknen lassen, Luft an beiden Flächen.
care-both = Beide Flächen gleich nass machen: eine nasse Fläche lässt ein Brett sich wölben.
care-oil = Wenn es trocken aussieht, ölen: Mineralöl, alle Seiten, nach einer Stunde abwischen.
care-moves = Holz arbeitet mit den Jahreszeiten. Ein Haarriss in trockener Winterluft schließt sich im Sommer; nicht an Ofen oder Heizkörper stellen.
care-nuts = Sollte ein Nussöl darauf kommen, sag es denen, die davon essen: manche sind gegen Nüsse allergisch.

# Was es kostet und wiegt
cost-title = Was es kostet und wiegt
cost-title-no-money = Was es gebraucht hat und wiegt
weigh-says = Das Brett wiegt etwa { $mass }; { $volume } Holz; { $area } Oberfläche.
weigh-seasons = In der trockensten Jahreszeit { $dry }, in der feuchtesten { $damp }. Die Dichte eines Holzes schwankt um ein Zehntel und mehr.
cost-wood = Verbrauchtes Holz
cost-wood-says = { $used } gingen in die Platten, in wahrer Größe, sägerau wo der Plan es so angibt; davon sind { $kept } im Brett. Das Brett und was verloren ging ergeben zusammen so viel.
cost-cubic = 1000 dm³ sind ein Kubikmeter.
cost-where = was
cost-how-much = wie viel
cost-went-in = ging hinein
cost-went-to = wohin es ging
cost-in-board = im fertigen Brett
lost-milling = verloren: an den Zuschnitten abgehobelt
lost-truing = verloren: Plattenkanten gerichtet
lost-planing = verloren: von der Platte gehobelt
lost-ends = verloren: Enden der Platte
lost-kerf = verloren: Sägeschnitt
lost-left-out = verloren: Streifen nicht gelegt
lost-flattening = verloren: abgerichtet und geschliffen
lost-trimming = verloren: vom Brett besäumt
lost-cuts = verloren: Griffe, Fräsungen, Ränder
cost-off-cut = Aufheben: { $what }: { $wide } breit, { $thick } dick, { $long } lang.
cost-more = { $count ->
    [one] Und einer mehr.
   *[other] Und { $count } mehr.
}
left-strip = Streifen { $number } der Platte { $name }
left-far-end = fernes Ende der Platte { $name }
left-blank = Zuschnitt { $name }
cost-time = Zeit an der Bank
cost-stage = Schritt
cost-takes = dauert
work-choose-and-letter = aussuchen und beschriften
work-mill = zurichten
work-first-glue-up = erste Verleimung
work-flatten-and-square-the-panel = Platte abrichten und winkeln
work-crosscut = ablängen
work-lay-up = legen
work-second-glue-up = zweite Verleimung
work-flatten = abrichten
work-trim = besäumen
work-handholds-and-cuts = Griffe und Fräsungen
work-sand = schleifen
work-finish = ölen
work-all = Alles zusammen
cost-time-says = Zeit mit den Händen nach den Zeiten im Plan (übliche Praxis, ohne Quelle, wo du keine eigenen gibst); was Leim und Öl von selbst brauchen, ist nicht darin.
cost-money = Geld, nach deinen Sätzen
money-wood = Holz, roh
money-glue = Leim
money-finish = Öl und Wachs
money-abrasives = Schleifmittel
money-work = deine Stunden
money-overhead = Gemeinkosten
money-cost = Kosten, das alles
money-profit = Gewinn
money-price = Preis
cost-formula = Preis = (Holz + Leim + Öl und Wachs + Schleifmittel + Stunden) × (1 + Gemeinkosten) × (1 + Gewinn). Holz nach dem, was zu kaufen ist, wie auf der Holzliste; Öl nach dem meisten, das die Flächen nehmen. Deine Währung, deine Sätze; ohne Steuer.
cost-rates = Deine Sätze: die Stunde { $hour }, Gemeinkosten { $overhead }, Gewinn { $profit }.

# Alle Zahlen
numbers-document-title = { $name }: alle Zahlen
numbers-title = Alle Zahlen, nach ihrem Schlüssel
numbers-about = Zum Nachschlagen, nicht für die Bank. report.json sagt von jeder, was sie ist und woher sie kommt.

# Warnhinweise
caution-unknown-wood = Reste von unbekanntem, gestrichenem, behandeltem Holz oder von Paletten gehören nicht an Lebensmittel.
caution-jointer = Schiebeklötze, Schutz über den Messern, nichts Kürzeres, als die Anleitung erlaubt.
caution-jointer-source = OSHA 29 CFR 1910.213 (USA) verlangt geschützte Messer; die Anleitung der Maschine geht vor.
caution-planer = Nichts Kürzeres oder Schmaleres, als die Anleitung des Dickenhobels erlaubt; neben der Vorschubrichtung stehen.
caution-kickback = Spaltkeil dran, Anschlag parallel, nicht in der Linie des Blatts stehen: ein klemmendes Stück wird zurückgeschleudert. Schmale Stücke mit Schiebestöcken, nie mit der Hand neben dem Blatt.
caution-kickback-source = OSHA 29 CFR 1910.213 (USA) verlangt Schutz, auch gegen Rückschlag; die Anleitung der Säge geht vor.
caution-dust = Holzstaub schadet der Lunge und kann Krebs erzeugen; manche Hölzer reizen die Haut. Absaugung an, eine Maske, die dicht sitzt.
caution-dust-source = IARC Monographs 62 (1995) und 100C (2012): Holzstaub, Gruppe 1. NIOSH empfiehlt höchstens 1 mg/m³.
caution-mitre-and-fence = Gehrungsanschlag und Parallelanschlag nie zusammen: das Stück klemmt und wird zurückgeschleudert.
caution-loose-strip = Der gesägte Streifen liegt lose zwischen Anschlag und Blatt und darf dort nicht klemmen: ein Klappanschlag, vor dem Schnitt hochgeklappt, oder ein Anschlagklotz auf dem Sägetisch, den die Platte verlässt, bevor sie das Blatt erreicht. Die Platte halten; den Streifen hält ein Niederhalter oder ein Stock, nie die Finger, bis das Blatt steht; erst dann ihn wegnehmen.
caution-eyes-and-ears = Schutzbrille und Gehörschutz, für dich und wer dabeisteht, von hier an bei jeder Maschine.
caution-at-the-saw = Augen- und Gehörschutz auf, Absaugung an, eine Maske, die sitzt; niemand in der Linie des Blatts.
caution-short-piece = Nach Schnitt { $safe } aufhören: das Stück ist dann zu kurz zum Halten. Ein Klotz von { $block } am fernen Ende lässt alle Schnitte zu; oder ein festgespannter Niederhalter, oder weniger Streifen.
caution-blade = Finger weg von der Linie des Blatts; kleine Stücke nur mit einem Stock und bei stehendem Blatt bewegen.
caution-blade-source = OSHA 29 CFR 1910.213 (USA) verlangt Schutzhauben und Schiebestöcke; die Anleitung der Säge geht vor.
caution-glue = Was auf dem Etikett über offene Zeit, Temperatur, Presszeit steht, geht vor. Leim nehmen, den sein Etikett wasserfest oder wasserbeständig nennt. Handschuhe; er bindet auf der Haut ab.
caution-end-grain-planer = Hirnholz nie durch den Dickenhobel: es kann zersplittern und geschleudert werden.
caution-trim = Beim Schneiden hinterlegen, wo das Blatt austritt, sonst reißen die letzten Fasern aus. Brett flach auf dem Schlitten oder am Anschlag, nie beides; Hände weit auseinander, nicht in der Linie des Blatts, Spaltkeil dran.
caution-starting-stop = Der Anfangsklotz ist niedrig, 19 mm, seine Unterkante für Späne gefast: die obere Ecke des angehobenen Bretts schwenkt in einen hohen hinein. Ein hoher Hilfsanschlag, { $high } hoch oder höher, trägt das Brett.
caution-plunge-onto-bit = Hände an den beiden Enden, nie über dem Schnitt oder dahinter. Zieht es das Brett, an den Klotz kommen lassen; nie zurückziehen.
caution-dead-centre = Dieser Fräser schneidet in der Mitte nicht. Auf volles Holz gesenkt verbrennt er es und schleudert Brett oder Fräse. Einen Fräser nehmen, der in der Mitte schneidet, oder ihm vorher ein Loch bohren.
caution-climb-cut = Nie in der anderen Reihenfolge und nie zum Fräser hin: von rechts nach links ist das Gleichlauf, der das Brett aus den Händen reißt.
caution-plunge-router = Das Brett so gespannt, dass es nicht wandert; Stecker gezogen, bevor Fräser oder Tiefe eingestellt werden. Den Fräser stehen lassen, bevor die Fräse abgehoben wird. Zwingen überall außerhalb ihrer Grundplatte.
caution-face-cut = Das Brett so gespannt, dass es nicht wandert, Zwingen außerhalb der Grundplatte; Stecker gezogen, bevor Fräser oder Tiefe eingestellt werden. Von Hand geführt, von oben gesehen: der Fräser dreht sich im Uhrzeigersinn und zieht die Fräse nach links von ihrem Weg. In einem Rahmen oder einer Öffnung im Uhrzeigersinn schieben, um eine Außenkante dagegen; in voller Breite so leichte Durchgänge, dass Rahmen oder Führung sie hält. Jede Fräsung sagt, welches. Niemand senkt eine geschlossene Rille auf einen Frästisch.
caution-foot-switch = Ein Fuß- oder Knieschalter ist da und erprobt, bevor die Fräse eingeschaltet wird: beide Hände bleiben am Brett. Ohne ihn nicht beginnen. Versagt er: nicht abheben, das Brett still halten und eine zweite Person den Stecker ziehen lassen; eine Hand verlässt das Brett nur, wo ein Niederhalter es hält.
caution-feed-by-hand = Der Fräser dreht sich, von oben gesehen, im Uhrzeigersinn und zieht die Fräse nach links von ihrem Weg: links steht ein Anschlag, ein Rahmen oder eine Führung. In einer Öffnung im Uhrzeigersinn schieben, um eine Außenkante dagegen. Leichte Durchgänge.
caution-corner-breaks = Die stehenden Ecken brechen aus, wo ein Fräser austritt: hinterlegen, leichte Durchgänge.
caution-cnc = Der erste Lauf weit über dem Werkstück, eine Hand am Not-Aus. Zwingen aus dem Weg des Fräsers. Die Anleitung der Maschine geht vor.
caution-cnc-dust = Augen- und Gehörschutz, Absaugung läuft, Ärmel und Haare weg von der Spindel. Fräser werfen Späne und können brechen: niemand in ihrer Flucht.
caution-cnc-level = Ein breiter Fräser packt ein Brett, das lose liegt: kein Kippeln, Spanner fest, leichte Durchgänge.
caution-cnc-outline = Kein Spanner, keine Schraube, keine Hand im Rahmen, solange es läuft. Stege bei stehender Spindel und gezogenem Stecker sägen oder stechen.
caution-cnc-edge = Ein Brett auf der Kante ist hoch: vor dem Einschalten von Hand prüfen, dass Spindel und Schlauch überall an Brett und Spanner vorbeikommen.
caution-rags = Lappen mit Lein-, Tung- oder Walnussöl können sich binnen Stunden selbst entzünden: flach im Freien trocknen oder unter Wasser in einer geschlossenen Blechdose halten.
caution-rags-source = Merkblätter von Universitäten und Versicherern; das der NFPA (USA). Mineralöl trocknet nicht und erhitzt sich nicht.
caution-food = Lebensmittelkontakt: nach dem Etikett von Öl und Leim. Hartes, feinporiges Holz wie Zuckerahorn nennen Lebensmittelvorschriften für Schneidbretter.
caution-food-source = FDA Food Code 4-101.17(B) (USA) für das Holz; 21 CFR 172.878 und 178.3620 für Weißöl. Keines davon lässt dieses Brett zu.

wood-black-walnut = Schwarznuss
wood-hard-maple = Zuckerahorn
wood-soft-maple = Rotahorn
wood-black-cherry = Amerikanische Kirsche
wood-white-oak = Weißeiche
wood-red-oak = Roteiche
wood-white-ash = Weißesche
wood-yellow-birch = Gelbbirke
wood-beech = Buche
wood-hickory = Hickory
wood-purpleheart = Amarant
wood-padauk = Padouk
wood-sapele = Sapeli
wood-teak = Teak
wood-pecan = Pekan
wood-elm = Ulme
wood-hackberry = Zürgelbaum
wood-sycamore = Amerikanische Platane
wood-sweetgum = Amberbaum
wood-red-alder = Roterle
wood-butternut = Butternuss
wood-basswood = Amerikanische Linde
wood-yellow-poplar = Tulpenbaum
wood-mahogany = Mahagoni
wood-african-mahogany = Afrikanisches Mahagoni
wood-jatoba = Jatoba
wood-iroko = Iroko

# Schablonen
templates-title = Schablonen 1:1
templates-about = Ohne Skalieren drucken („100 %“, „tatsächliche Größe“), dann beide Balken von Außenkante zu Außenkante messen. Stimmen sie nicht, stimmen auch die Schablonen nicht.
templates-bar-mm = Dieser Balken ist 100 mm lang.
templates-bar-in = Dieser Balken ist 4 Zoll lang.
templates-stops = Längen, um Anschläge zu prüfen
templates-right-block = Griffmulde, { $edge }: rechter Klotz von der näheren Schneide
templates-left-block = Griffmulde, { $edge }: linker Klotz von der näheren Schneide
templates-times = { $what } (× { $count })
templates-too-long = { $what }: länger, als dieses Papier breit ist; einen Maßstab nehmen.
templates-stops-say = Um einen Einstellklotz oder Anschlag auf einen Blick zu prüfen: mit Maßstab oder Messschieber einstellen, dann den Anschlag an den Balken halten.
templates-corner = Ecke, von oben gesehen
templates-feet = Fuß: Mitte seines Lochs, von einer Ecke der Unterseite
templates-feet-say = Die gedruckte Ecke auf eine Ecke der Unterseite legen, jede gedruckte Seite an die Kante, die daran steht, und durchstechen. Für die nächste Ecke das Blatt wenden.
templates-feet-long = an Vorder- oder Hinterkante
templates-feet-short = an linker oder rechter Kante
template-sheet = Blatt { $number } von { $of }.
template-join = Die Blätter liegen von links nach rechts, Reihe um Reihe. Eines an seiner gestrichelten Linie abschneiden, so auf das nächste legen, dass die Kreuze sich decken, kleben; dann über die Naht messen.
template-block-says = Einen Klotz aus hartem Abfall auf diese Länge schneiden und den Anschlag danach stellen. Den Klotz messen, nicht das Papier: Papier dehnt sich.
template-stop-title = Einstellklotz für den Sägeanschlag, Platte { $panel }
template-blocks-title = Einstellklötze für den Frästisch, { $edge }
template-table-title = Frästisch, { $edge }, von oben
template-table-says = Stecker gezogen: auf den Tisch legen, das Kreuz unter der Fräsermitte, Anschlag und Klötze an die Linien bringen; dann alle drei mit dem Maßstab messen. Die Linie des Anschlags gilt für das Brett, wie es ist, noch nicht geschliffen.
template-strips-title = Streifen der Platte { $panel }
template-strips-says = An die Kante der Platte legen, das linke Ende an ihr winkliges nahes Ende: Anfang und Ende jedes Streifens, dazwischen gefüllt der Sägeschnitt. Um zu sehen, wohin Fugen und Äste fallen; die Streifen stellt der Anschlag ein, nicht das Papier.
template-corner-says = Die gestrichelte Ecke auf die des Bretts legen und den Bogen anzeichnen. Für die nächste Ecke das Blatt wenden.
