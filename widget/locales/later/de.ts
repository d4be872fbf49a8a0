import { formatNote, type MessageFormat } from '../message-format.ts';
import type { LaterMessages } from '../messages.ts';
import type { WordedPosition } from '../stage-words.ts';

const surfaces: Readonly<Record<string, string>> = { flat: 'flach', curved: 'gewölbt', cylinder: 'rund' };
const fibers: Readonly<Record<string, string>> = {
  cotton: 'Baumwolle',
  polyester: 'Polyester',
  linen: 'Leinen',
  viscose: 'Viskose',
  wool: 'Wolle',
  elastane: 'Elasthan',
};
const qualities: Readonly<Record<string, string>> = {
  hand: 'der Griff',
  gloss: 'der Glanz',
  washLife: 'die Waschbeständigkeit',
  washLifeCycles: 'die Waschbeständigkeit',
  breathability: 'die Atmungsaktivität',
};
const pieces = { one: '# Stück', other: '# Stück' } as const;
const across = (say: MessageFormat, xMm: number) =>
  Math.abs(xMm) < 0.005
    ? 'auf der Mittellinie'
    : `${say.len(Math.abs(xMm))} ${xMm > 0 ? 'rechts' : 'links'} der Mitte`;
const place = (say: MessageFormat, p: WordedPosition) =>
  `${across(say, p.xMm)}, ${say.len(p.yMm)} von oben${
    p.angleDeg === 0 ? '' : `, um ${say.angle(p.angleDeg)} gedreht`
  }`;

/** German: what the slip says once the customer has begun. */
export const messages: LaterMessages = {
  details: {
    remove: 'Entfernen',
    adjust: 'Anpassen',
    apply: 'Übernehmen',
    width: 'Breite',
    'from-center': 'Von der Mitte',
    'from-top': 'Von oben',
    angle: 'Winkel',
    'angle-range': (_p, s) => `Von ${s.angle(-360)} bis ${s.angle(360)}`,
    'length-range': (p, s) => `Von ${s.text(p.leastText)} bis ${s.text(p.mostText)}`,
    'usual-positions': 'Übliche Plätze',
    'duplicate-to': (p, s) => `Nach ${s.text(p.name)} kopieren`,
    'also-on': 'Kopieren nach',
    checking: 'Das Motiv wird geprüft …',
    'no-findings': 'Motiv geprüft: nichts auszubessern',
    noticed: (p, s) => s.plural(p.count, { one: '# Hinweis', other: '# Hinweise' }),
    'severity-note': 'Gut zu wissen',
    'severity-warning': 'Bitte prüfen',
    'severity-stops': (p, s) => `Nicht mit ${s.names('method', p.methods, 'or')}`,
    before: 'Vorher',
    after: 'Nachher',
    mended: 'Ausgebessert',
    'take-back': 'Zurücknehmen',
    'names-list': 'Ein Name je Zeile, mit seiner Größe',
    'names-file': 'Liste aus einer Datei nehmen',
    'names-too-long': (p, s) => `Zeile ${s.n(p.row)}: ein Name hat höchstens ${s.n(40)} Buchstaben`,
    'names-too-many': (p, s) => `Zeile ${s.n(p.row)}: eine Liste hat höchstens ${s.n(2000)} Zeilen`,
    'names-unknown-size': (p, s) => `Zeile ${s.n(p.row)}: es gibt keine Größe ${s.text(p.text)}`,
    'rows-refused': (p, s) =>
      s.plural(p.count, { one: '# weitere Zeile ist fehlerhaft', other: '# weitere Zeilen sind fehlerhaft' }),
    'names-no-name': (p, s) => `Zeile ${s.n(p.row)}: Der Name fehlt`,
    'names-count': (p, s) => s.plural(p.count, { one: '# Name', other: '# Namen' }),
    'names-off': (p, s) =>
      `${s.text(p.size)}: ${s.plural(p.names, { one: '# Name', other: '# Namen' })} für ${s.plural(p.pieces, { one: '# Stück', other: '# Stück' })}`,
    'names-set-pieces': (p, s) =>
      s.plural(p.count, {
        one: '# Stück nehmen, wie in der Liste',
        other: '# Stück nehmen, wie in der Liste',
      }),
    'names-file-large': (p, s) => `Die Datei ist größer als ${s.bytes(p.bytes)}`,
    widest: 'Größte Breite',
    'name-shown': (p, s) => `Auf der Zeichnung: ${s.text(p.name)} (${s.n(p.number)} von ${s.n(p.count)})`,
    'name-next': 'Nächsten Namen zeigen',
    font: 'Schrift',
    'cap-height': 'Höhe der Großbuchstaben',
    tax: (p, s) => `Steuer ${s.percent(p.rate)}`,
    'tax-included': (p, s) => `Steuer ${s.percent(p.rate)}, enthalten`,
    sum: 'So kommt die Summe zustande',
    'every-count': 'Was jede Stückzahl ändert',
    'count-at-price': (p, s) =>
      `${s.plural(p.count, pieces)}: je ${s.money(p.unit)}, zusammen ${s.money(p.total)}`,
    because: 'Warum so',
    instead: 'Was sonst noch geht',
    'change-finish': (p, s) => `Ausführung: ${s.name('finish', p.finish)}`,
    'change-method': (p, s) => `Gedruckt mit ${s.name('method', p.method)}`,
    'change-count': (p, s) => s.plural(p.count, pieces),
    'change-rush': (p) => (p.rush === false ? 'Ohne Eilzuschlag' : 'Als Eilauftrag'),
    'change-needed-by': (p, s) => (p.neededBy ? `Gebraucht bis ${s.day(p.neededBy)}` : 'Ohne Termin'),
    'now-ready': 'Nun fertig am',
    'earliest-day': (p, s) => `Der früheste Tag ist ${s.day(p.day)}`,
    'month-before': 'Voriger Monat',
    'month-after': 'Nächster Monat',
    'price-holds': (p, s) => `Preis und Tag gelten bis ${s.text(p.until)}`,
    'your-order': 'Ihr Auftrag',
    'back-to-slip': 'Zurück zum Zettel',
    name: 'Name',
    email: 'E-Mail',
    phone: 'Telefon',
    note: 'Nachricht an die Werkstatt',
    optional: 'wenn Sie mögen',
    'fault-name': 'Bitte schreiben Sie Ihren Namen.',
    'fault-email': 'Bitte schreiben Sie eine E-Mail-Adresse, etwa ada@quill.example.',
    'fault-approve': 'Bitte sehen Sie sich die Ansicht an und setzen Sie dann hier den Haken.',
    proof: 'Ansicht zur Freigabe',
    'proof-of': (p, s) => `Ansicht von ${s.text(p.name)}`,
    'proof-name': (p, s) =>
      `Gezeigt mit „${s.text(p.text)}“; jedes Stück bekommt seinen eigenen Namen oder seine eigene Nummer.`,
    'proof-coming': 'Die Ansicht wird gezeichnet',
    approve: 'Ich habe die Ansicht geprüft: bitte so drucken',
    'place-order': (p, s) => (p.total ? `Für ${s.money(p.total)} bestellen` : 'Bestellen'),
    ordering: 'Ihr Auftrag wird aufgegeben',
    'order-placed': 'Danke. Die Werkstatt hat Ihren Auftrag.',
    state: 'Stand',
    'new-slip': 'Neuen Zettel beginnen',
  },
  reasons: {
    'surface-unfit': (p, s) =>
      `Diese Stelle ist ${s.word(surfaces, p.surface)}; gedruckt werden kann nur, was ${s.anyOf(surfaces, p.allowed)} ist.`,
    'off-the-face': (p, s) =>
      `Der Druck, ${s.size(p.widthMm, p.heightMm)}, ragt bei Größe ${s.name('size', p.size)} über die Druckfläche von ${s.size(p.areaWidthMm, p.areaHeightMm)} hinaus.`,
    'in-keep-out': (p, s) =>
      `Der Druck berührt ${s.name('keep-out', p.keepOut)}; dort kann nicht gedruckt werden.`,
    'too-large-for-bed': (p, s) =>
      `Der Druck, ${s.size(p.widthMm, p.heightMm)}, passt nicht auf das Druckbett von ${s.size(p.bedWidthMm, p.bedHeightMm)}.`,
    'too-large-for-sheet': (p, s) =>
      `Der Druck, ${s.size(p.widthMm, p.heightMm)}, passt nicht auf einen Bogen von ${s.size(p.sheetWidthMm, p.sheetHeightMm)}.`,
    'fiber-unfit': (p, s) =>
      `Nötig sind mindestens ${s.percent(p.leastShare)} ${s.anyOf(fibers, p.fibers)}; dieser Stoff hat ${s.percent(p.share)}.`,
    'cloth-too-light': 'Der Stoff ist dafür zu hell.',
    'cloth-too-dark': 'Der Stoff ist dafür zu dunkel.',
    'line-too-thin': (p, s) =>
      `Die dünnste Linie wäre ${s.fine(p.lineMm)}; Linien halten ab ${s.fine(p.leastMm)}.`,
    'gap-too-thin': (p, s) =>
      `Die schmalste Lücke wäre ${s.fine(p.gapMm)}; Lücken bleiben ab ${s.fine(p.leastMm)} offen.`,
    'too-few-pixels': (p, s) =>
      `In dieser Größe hat das Bild ${s.n(p.dpi)} Punkte je Zoll; nötig sind ${s.n(p.leastDpi)}.`,
    'soft-alpha-lost': (p, s) =>
      `${s.percent(p.share)} der Farbe sind durchscheinend, etwa in Schatten und Verläufen, und gingen verloren.`,
    'too-few-pieces': (p, s) =>
      `Das beginnt bei ${s.plural(p.least, pieces)}; hier sind es ${s.n(p.pieces)}.`,
    'too-many-pieces': (p, s) => `Das geht bis ${s.plural(p.most, pieces)}; hier sind es ${s.n(p.pieces)}.`,
    'hand-too-thick': 'Man würde es mehr spüren, als die Ausführung verlangt.',
    'gloss-out-of-bounds': 'Der Glanz ist nicht, wie die Ausführung ihn verlangt.',
    'wash-life-too-short': (p, s) =>
      `Es hält ${s.plural(p.washLife, { one: '# Wäsche', other: '# Wäschen' })}; die Ausführung verlangt ${s.n(p.least)}.`,
    'breathability-too-low': 'Es lässt weniger Luft durch, als die Ausführung verlangt.',
    'not-together-on-a-piece': (p, s) =>
      `Es kann nicht mit ${s.name('method', p.other)} auf demselben Stück sein.`,
    'no-station': 'Keine Presse und kein Drucker der Werkstatt kann das aufnehmen.',
    'nothing-to-print': 'In diesem Motiv ist keine Farbe.',
    'method-not-asked': (p, s) => `Sie haben ${s.name('method', p.asked)} verlangt.`,
    'no-placement': 'Es gibt noch nichts zu drucken: fügen Sie ein Motiv oder Namen hinzu.',
    'no-method-fits': 'So, wie es ist, kann die Werkstatt das nicht drucken.',
    'needed-by-too-early': (p, s) =>
      `${s.day(p.neededBy)} ist nicht zu halten. Der früheste Tag ist ${s.day(p.earliest)}.`,
    'plan-full': (p, s) =>
      `Die Werkstatt ist für die nächsten ${s.plural(p.horizonDays, { one: '# Tag', other: '# Tage' })} ausgebucht.`,
    'only-fit': (p, s) => `${s.name('method', p.method)} ist das einzige Verfahren, das passt.`,
    'best-margin-rate': (p, s) =>
      `Mit ${s.name('method', p.method)} kommt die Werkstatt besser voran als mit ${s.name('method', p.other)}.`,
    'lowest-price': (p, s) =>
      `${s.name('method', p.method)} kostet ${s.money(p.difference)} weniger als ${s.name('method', p.other)}.`,
    'earliest-day': (p, s) =>
      `Mit ${s.name('method', p.method)} ist es ${s.day(p.day)} fertig, mit ${s.name('method', p.other)} ${s.day(p.otherDay)}.`,
    'equal-so-listed-first': (p, s) =>
      `${s.name('method', p.method)} und ${s.name('method', p.other)} sind gleichauf; die Werkstatt zieht das erste vor.`,
    'finish-asks': (p, s) =>
      `Die Ausführung ${s.name('finish', p.finish)} entscheidet: ${s.word(qualities, p.quality)}.`,
    'keeps-needed-by': (p, s) =>
      `${s.name('method', p.method)} hält ${s.day(p.neededBy)}; mit ${s.name('method', p.other)} wäre es ${s.day(p.otherDay)} fertig.`,
    'underbase-needed': (p, s) => `Auf ${s.name('color', p.color)} liegt unter den Farben eine Schicht Weiß.`,
    'treatment-added': (p, s) =>
      `${s.name('treatment', p.treatment)} kommt für die Ausführung ${s.name('finish', p.finish)} hinzu.`,
    'many-alike': (p, s) =>
      `${s.plural(p.pieces, { one: '# Stück', other: '# gleiche Stücke' })}: einmal Einrichten genügt für alle.`,
    'each-different': (p, s) =>
      `${s.plural(p.pieces, { one: '# Stück', other: '# Stück, jedes anders' })}: jedes ist ein eigener Druck.`,
    'bound-reached': (p, s) =>
      `Es gab zu viele Möglichkeiten, um alle zu prüfen; dies liegt höchstens ${s.percent(p.gap)} neben der besten.`,
    'next-count-cheaper': (p, s) => `Ab ${s.plural(p.count, pieces)} kostet eines ${s.money(p.unit)}.`,
    'count-capped': (p, s) =>
      `Sie zahlen nicht mehr, als ${s.plural(p.count, pieces)} kosten würden: ${s.money(p.total)}.`,
    'floor-applied': 'Für weniger kann die Werkstatt es nicht machen.',
    'set-up-fee': 'Das Einrichten wird einmal bezahlt.',
    'rush-fee': 'Der frühere Tag kostet einen Zuschlag.',
    'size-surcharge': 'Manche Größen kosten mehr.',
    'after-cutoff': (p, s) => `Aufträge nach ${s.time(p.cutoff)} Uhr zählen zum nächsten Arbeitstag.`,
    'move-onto-face': 'Verschieben Sie es in die Druckfläche.',
    'make-smaller': (p, s) => `Machen Sie es höchstens ${s.len(p.widthMm)} breit.`,
    'use-other-face': (p, s) => `Setzen Sie es auf ${s.name('face', p.face)}.`,
    'use-other-finish': (p, s) => `Wählen Sie die Ausführung ${s.name('finish', p.finish)}.`,
    'use-other-blank': (p, s) => `Nehmen Sie einen anderen Rohling: ${s.name('blank', p.blank)}.`,
    'thicken-lines': (p, s) => `Verstärken Sie die Linien auf ${s.fine(p.toMm)}.`,
    'widen-gaps': (p, s) => `Verbreitern Sie die Lücken auf ${s.fine(p.toMm)}.`,
    'larger-letters': (p, s) =>
      `Machen Sie die Buchstaben ${s.len(p.capHeightMm)} hoch und lassen Sie ${s.len(p.widthMm)} Breite zu.`,
    'use-other-color': (p, s) => `Wählen Sie die Farbe ${s.name('color', p.color)}.`,
    'fewer-pieces': (p, s) => `Nehmen Sie höchstens ${s.plural(p.pieces, pieces)}.`,
    'more-pieces': (p, s) => `Nehmen Sie mindestens ${s.plural(p.pieces, pieces)}.`,
    'firm-up-soft-alpha': 'Machen Sie die durchscheinenden Teile deckend.',
    'sharper-file': (p, s) => `Schicken Sie eine Datei, die mindestens ${s.n(p.widthPx)} Pixel breit ist.`,
    'choose-later-day': (p, s) => `Wählen Sie ${s.day(p.day)} oder später.`,
    'pay-rush': (p, s) => `Als Eilauftrag für ${s.money(p.fee)} ist es ${s.day(p.day)} fertig.`,
    'rush-brings-nothing-earlier': (p, s) => `Ein Eilauftrag wäre nicht früher fertig als ${s.day(p.day)}.`,
    'method-flips-below': (p, s) => `Bis ${s.plural(p.count, pieces)} wäre es ${s.name('method', p.method)}.`,
    'method-flips-at': (p, s) => `Ab ${s.plural(p.count, pieces)} wäre es ${s.name('method', p.method)}.`,
  },
  findings: {
    'nothing-to-print': 'Das Bild ist leer: es ist nichts darin zu drucken.',
    'too-few-pixels': (p, s) =>
      `Bei ${s.len(p.widthMm)} Breite hat das Bild ${s.n(p.dpi)} Punkte je Zoll und wirkt weich. Scharf ist es bis ${s.len(p.goodWidthMm)} oder mit einer Datei von ${s.n(p.neededWidthPx)} Pixeln Breite.`,
    'thin-lines': (p, s) =>
      `Linien von nur ${s.fine(p.lineMm)} können abreißen; sie halten ab ${s.fine(p.leastMm)}, also bei ${s.len(p.goodWidthMm)} Breite.`,
    'thin-gaps': (p, s) =>
      `Lücken von nur ${s.fine(p.gapMm)} können zulaufen; sie bleiben ab ${s.fine(p.leastMm)} offen, also bei ${s.len(p.goodWidthMm)} Breite.`,
    'soft-alpha': (p, s) =>
      `${s.percent(p.share)} der Farbe sind durchscheinend, etwa in Schatten und Verläufen. Sie drucken deckend oder gar nicht.`,
    'background-box': (p, s) =>
      `Das Motiv steht in einem Kasten in ${s.text(p.hex)}; der Kasten wird mitgedruckt.`,
    vanishes: (p, s) =>
      `${s.percent(p.share)} der Farbe sind dem Stoff so ähnlich, dass man sie nicht sehen wird.`,
    'light-rim': 'Um das Motiv ist ein heller Rand geblieben, wie vom Ausschneiden auf Weiß.',
    'out-of-gamut': (p, s) =>
      `Manche Farben sind mit Druckfarbe nicht zu erreichen und wirken ruhiger: ${s.list(p.colors)}.`,
    'large-solid': (p, s) =>
      `Eine Fläche von ${s.len(p.diameterMm)} lässt keine Luft durch; in feine Punkte aufgelöst trägt sie sich besser.`,
    'mostly-empty': (p, s) =>
      `Die Farbe füllt ${s.percent(p.share)} des Bildes. Platziert wird nach der Farbe, nicht nach dem leeren Blatt.`,
    'extreme-shape': (p, s) =>
      `Das Motiv ist ${s.n(p.ratio)}-mal so lang wie hoch oder breit. Prüfen Sie seine Größe.`,
    'source-note': (p, s) => formatNote(messages.notes, p, s),
  },
  remedies: {
    'remove-background': 'Hintergrund herausnehmen',
    trim: 'Leere Ränder abschneiden',
    'firm-up': 'Durchscheinende Teile deckend machen',
    'screen-soft': 'Durchscheinende Teile in feine Punkte auflösen',
    thicken: 'Dünne Linien verstärken',
    outline: 'Eine Kontur darum legen',
    'screen-solids': 'Große Flächen in feine Punkte auflösen',
    recolor: 'In einer anderen Farbe drucken',
  },
  notes: {
    'turned-by-metadata': 'Das Bild war gedreht gespeichert; es wird aufrecht gezeigt.',
    'cmyk-converted':
      'Die Datei hat Druckfarben (CMYK); sie wurden umgerechnet und können etwas anders wirken.',
    'wide-gamut-converted': 'Die Datei hat mehr Farben als ein Bildschirm; sie wurden angepasst.',
    'sixteen-bit-reduced': 'Die Datei hat feinere Stufen, als sich drucken lassen; sie wurden verringert.',
    'first-frame-only': (p, s) =>
      `Die Datei ist animiert; gedruckt wird das erste von ${s.plural(p.frames, { one: '# Bild', other: '# Bildern' })}.`,
    'first-page-only': (p, s) =>
      `Gedruckt wird die erste von ${s.plural(p.pages, { one: '# Seite', other: '# Seiten' })}.`,
    'missing-font': (p, s) =>
      `Die Werkstatt hat die Schrift ${s.list(p.fonts)} nicht; eine andere steht dafür. Schicken Sie die Schrift als Umrisse, damit sie bleibt.`,
    'no-size-in-file': 'Die Datei nennt keine Größe; geben Sie die gewünschte Breite an.',
    'external-reference-dropped': (p, s) =>
      s.plural(p.count, {
        one: 'Ein Bild, auf das die Datei nur verweist, fehlt.',
        other: '# Bilder, auf die die Datei nur verweist, fehlen.',
      }),
    'active-content-dropped': 'Die Datei enthielt ein Programm; es wurde weggelassen.',
    'name-does-not-match': (p, s) => `Die Datei heißt ${s.text(p.named)} und ist ${s.text(p.found)}.`,
    reduced: (p, s) =>
      `Das Bild, ${s.n(p.fromWidthPx)} × ${s.n(p.fromHeightPx)} Pixel, ist größer als nutzbar und wurde verkleinert.`,
  },
  charges: {
    'size-surcharge': (p, s) => (p.size ? `Größe ${s.name('size', p.size)}` : 'Größere Größen'),
    'extra-placement': 'Weitere Drucke',
    names: 'Namen',
    'finish-surcharge': 'Ausführung',
    'break-cap': 'Nicht mehr als die nächste Stufe',
    'set-up-order': 'Einrichten',
    'set-up-design': 'Einrichten des Motivs',
    rush: 'Eilzuschlag',
    delivery: 'Übergabe',
    rounding: 'Rundung',
  },
  problems: {
    'malformed-json': 'Die Werkstatt konnte das Gesendete nicht lesen. Bitte versuchen Sie es noch einmal.',
    'invalid-input': 'Etwas auf dem Zettel ist nicht, wie es sein muss.',
    'missing-key': 'Dafür braucht es einen Schlüssel.',
    'wrong-key': 'Der Schlüssel gilt nicht.',
    'not-allowed': 'Mit diesem Schlüssel ist das nicht erlaubt.',
    'not-found': 'Hier ist nichts.',
    'method-not-allowed': 'Das nimmt die Werkstatt hier nicht an.',
    'unknown-shop': 'Diese Werkstatt gibt es nicht.',
    'unknown-artwork': 'Die Werkstatt hat dieses Motiv nicht mehr. Bitte fügen Sie es noch einmal hinzu.',
    'unknown-id': 'Etwas auf dem Zettel bietet die Werkstatt nicht mehr an. Bitte wählen Sie neu.',
    'artwork-in-use': 'Dieses Motiv gehört zu einem Auftrag und bleibt.',
    'quote-expired': 'Der Preis galt bis jetzt. Hier ist ein neuer.',
    'quote-altered': 'Der Preis stammt nicht von dieser Werkstatt.',
    'slip-differs': 'Der Zettel hat sich seit der Berechnung geändert. Hier ist der neue Preis.',
    'day-not-kept': 'Der Tag ist eben an einen anderen Auftrag gegangen. Hier ist der neue Tag.',
    'key-reused': 'Dieser Auftrag wurde schon einmal mit anderem Inhalt gesendet.',
    'still-running': 'Ihr Auftrag wird schon aufgegeben. Einen Moment.',
    'precondition-failed': 'Es hat sich geändert, seit es gelesen wurde.',
    'precondition-required': 'Sagen Sie, welche Fassung gemeint ist.',
    'catalog-faulty': 'Der Katalog hat Fehler.',
    'too-large': 'Die Datei ist zu groß.',
    'upload-protocol':
      'Die Datei konnte nicht gesendet werden: Die Werkstatt spricht eine andere Version des Übertragungsprotokolls.',
    'upload-offset': 'Ein Teil der Datei ging verloren und wird noch einmal gesendet.',
    'upload-altered': 'Die Datei wurde unterwegs verändert. Bitte noch einmal senden.',
    'unsupported-file':
      'Von dieser Art Datei kann nicht gedruckt werden. Schicken Sie PNG, JPEG, SVG oder PDF.',
    'unreadable-file':
      'Die Datei ist nicht lesbar; vielleicht ist sie beschädigt oder abgeschnitten. Speichern Sie sie neu und schicken Sie sie noch einmal.',
    'unsupported-media': 'Diese Art Inhalt wird hier nicht angenommen.',
    'too-many-requests': 'Das war viel auf einmal. Bitte warten Sie einen Moment.',
    'state-not-allowed': 'In diesen Stand kann der Auftrag nicht gehen.',
    busy: 'Die Werkstatt hat gerade viel zu tun. Es wird noch einmal versucht.',
    'server-fault': 'In der Werkstatt ist etwas schiefgegangen. Ihr Zettel bleibt erhalten.',
  },
  states: {
    accepted: 'Angenommen',
    'in-work': 'In Arbeit',
    packed: 'Verpackt',
    'handed-over': 'Übergeben',
    cancelled: 'Storniert',
  },
  late: {
    'not-kept': 'Der zugesagte Tag lässt sich nicht halten; das tut uns leid.',
    'no-day-yet': 'noch nicht bekannt',
    equipment: 'Eine Maschine, die Ihr Auftrag braucht, ist außer Betrieb.',
    remake: 'Teile Ihres Auftrags müssen neu gemacht werden.',
    'work-before': 'Arbeit vor Ihrem Auftrag dauerte länger als geplant.',
    hours: 'Die Öffnungszeiten der Werkstatt haben sich geändert.',
    people: 'Es sind weniger Menschen bei der Arbeit als geplant.',
  },
  stage: {
    drawing: (_say, view) => `${view}, maßstäblich gezeichnet`,
    artworks: 'Motive auf der Zeichnung',
    keys: 'Die Pfeiltasten verschieben es, mit Umschalt weiter. Plus und Minus ändern die Breite, eckige Klammern drehen, Entf nimmt es weg, Esc lässt es los.',
    artwork: (say, p) => `${p.name} auf ${p.face}: ${say.size(p.widthMm, p.heightMm)}, ${place(say, p)}`,
    moved: (say, p) => `${place(say, p)}, ${say.len(p.widthMm)} breit`,
    wide: (say, widthMm) => `${say.len(widthMm)} breit`,
    outside: 'ragt über die Druckfläche hinaus',
    inKeepOut: (_say, name) => `berührt ${name}`,
    loading: 'Bild ist unterwegs',
    failed: 'Bild kann nicht gezeigt werden',
    dropHere: 'Motiv hier ablegen',
    chooseFile: 'oder Datei wählen',
  },
};
