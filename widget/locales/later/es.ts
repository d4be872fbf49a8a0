import { formatNote, type MessageFormat } from '../message-format.ts';
import type { LaterMessages } from '../messages.ts';
import type { WordedPosition } from '../stage-words.ts';

const surfaces: Readonly<Record<string, string>> = { flat: 'plana', curved: 'curva', cylinder: 'redonda' };
const fibers: Readonly<Record<string, string>> = {
  cotton: 'algodón',
  polyester: 'poliéster',
  linen: 'lino',
  viscose: 'viscosa',
  wool: 'lana',
  elastane: 'elastano',
};
const qualities: Readonly<Record<string, string>> = {
  hand: 'el tacto',
  gloss: 'el brillo',
  washLife: 'la resistencia al lavado',
  washLifeCycles: 'la resistencia al lavado',
  breathability: 'la transpiración',
};
// "many" is the form before millions: "1 000 000 de piezas"
const pieces = { one: '# pieza', many: '# de piezas', other: '# piezas' } as const;
const across = (say: MessageFormat, xMm: number) =>
  Math.abs(xMm) < 0.005
    ? 'en la línea central'
    : `${say.len(Math.abs(xMm))} a la ${xMm > 0 ? 'derecha' : 'izquierda'} del centro`;
const place = (say: MessageFormat, p: WordedPosition) =>
  `${across(say, p.xMm)}, a ${say.len(p.yMm)} del borde superior${
    p.angleDeg === 0 ? '' : `, con un giro de ${say.angle(p.angleDeg)}`
  }`;

/** Spanish: what the slip says once the customer has begun. */
export const messages: LaterMessages = {
  details: {
    remove: 'Quitar',
    adjust: 'Ajustar',
    apply: 'Aplicar',
    width: 'Ancho',
    'from-center': 'Desde el centro',
    'from-top': 'Desde arriba',
    angle: 'Ángulo',
    'angle-range': (_p, s) => `De ${s.angle(-360)} a ${s.angle(360)}`,
    'length-range': (p, s) => `De ${s.text(p.leastText)} a ${s.text(p.mostText)}`,
    'usual-positions': 'Lugares habituales',
    'duplicate-to': (p, s) => `Copiar a ${s.text(p.name)}`,
    'also-on': 'Copiar a',
    checking: 'Se está revisando el diseño…',
    'no-findings': 'Diseño revisado: nada que corregir',
    noticed: (p, s) => s.plural(p.count, { one: '# aviso', many: '# de avisos', other: '# avisos' }),
    'severity-note': 'Bueno es saberlo',
    'severity-warning': 'Conviene revisarlo',
    'severity-stops': (p, s) => `No con ${s.names('method', p.methods, 'or')}`,
    before: 'Antes',
    after: 'Después',
    mended: 'Corregido',
    'take-back': 'Deshacer la corrección',
    'names-list': 'Un nombre por fila, con su talla',
    'names-file': 'Tomar la lista de un archivo',
    'names-too-long': (p, s) => `Fila ${s.n(p.row)}: un nombre tiene ${s.n(40)} letras como máximo`,
    'names-too-many': (p, s) => `Fila ${s.n(p.row)}: una lista tiene ${s.n(2000)} filas como máximo`,
    'names-unknown-size': (p, s) => `Fila ${s.n(p.row)}: no hay talla ${s.text(p.text)}`,
    'rows-refused': (p, s) =>
      s.plural(p.count, {
        one: '# fila más tiene un fallo',
        many: '# de filas más tienen fallos',
        other: '# filas más tienen fallos',
      }),
    'names-no-name': (p, s) => `Fila ${s.n(p.row)}: falta el nombre`,
    'names-count': (p, s) => s.plural(p.count, { one: '# nombre', many: '# de nombres', other: '# nombres' }),
    'names-off': (p, s) =>
      `${s.text(p.size)}: ${s.plural(p.names, { one: '# nombre', many: '# de nombres', other: '# nombres' })} para ${s.plural(p.pieces, { one: '# pieza', many: '# de piezas', other: '# piezas' })}`,
    'names-set-pieces': (p, s) =>
      s.plural(p.count, {
        one: 'Hacer # pieza, como en la lista',
        many: 'Hacer # de piezas, como en la lista',
        other: 'Hacer # piezas, como en la lista',
      }),
    'names-file-large': (p, s) => `El archivo pasa de ${s.bytes(p.bytes)}`,
    widest: 'Ancho máximo',
    'name-shown': (p, s) => `En el dibujo: ${s.text(p.name)} (${s.n(p.number)} de ${s.n(p.count)})`,
    'name-next': 'Mostrar el nombre siguiente',
    font: 'Letra',
    'cap-height': 'Altura de las mayúsculas',
    tax: (p, s) => `Impuesto ${s.percent(p.rate)}`,
    'tax-included': (p, s) => `Impuesto ${s.percent(p.rate)}, incluido`,
    sum: 'Cómo se forma el total',
    'every-count': 'Qué cambia con cada cantidad',
    'count-at-price': (p, s) =>
      `${s.plural(p.count, pieces)}: ${s.money(p.unit)} cada una, ${s.money(p.total)} en total`,
    because: 'Por qué así',
    instead: 'Qué más puede hacer',
    'change-finish': (p, s) => `Acabado: ${s.name('finish', p.finish)}`,
    'change-method': (p, s) => `Estampado con ${s.name('method', p.method)}`,
    'change-count': (p, s) => s.plural(p.count, pieces),
    'change-rush': (p) => (p.rush === false ? 'Sin urgencia' : 'Con urgencia'),
    'change-needed-by': (p, s) => (p.neededBy ? `Para el ${s.day(p.neededBy)}` : 'Sin fecha'),
    'now-ready': 'Ahora listo el',
    'earliest-day': (p, s) => `El primer día posible es ${s.day(p.day)}`,
    'month-before': 'Mes anterior',
    'month-after': 'Mes siguiente',
    'price-holds': (p, s) => `El precio y el día valen hasta ${s.text(p.until)}`,
    'your-order': 'Su pedido',
    'back-to-slip': 'Volver a la hoja',
    name: 'Nombre',
    email: 'Correo electrónico',
    phone: 'Teléfono',
    note: 'Nota para el taller',
    optional: 'si lo desea',
    'fault-name': 'Escriba su nombre.',
    'fault-email': 'Escriba una dirección de correo, por ejemplo ada@quill.example.',
    'fault-approve': 'Mire la prueba y después marque esta casilla.',
    proof: 'Prueba',
    'proof-of': (p, s) => `Prueba de ${s.text(p.name)}`,
    'proof-name': (p, s) => `Se muestra con «${s.text(p.text)}»; cada pieza lleva su propio nombre o número.`,
    'proof-coming': 'Se está dibujando la prueba',
    approve: 'He mirado la prueba: estámpenlo así',
    'place-order': (p, s) => (p.total ? `Pedir por ${s.money(p.total)}` : 'Pedir'),
    ordering: 'Se está haciendo su pedido',
    'order-placed': 'Gracias. El taller tiene su pedido.',
    state: 'Estado',
    'new-slip': 'Empezar una hoja nueva',
  },
  reasons: {
    'surface-unfit': (p, s) =>
      `Esta zona es ${s.word(surfaces, p.surface)}; solo se puede estampar una superficie ${s.anyOf(surfaces, p.allowed)}.`,
    'off-the-face': (p, s) =>
      `El estampado, ${s.size(p.widthMm, p.heightMm)}, sale de la zona de ${s.size(p.areaWidthMm, p.areaHeightMm)} en la talla ${s.name('size', p.size)}.`,
    'in-keep-out': (p, s) =>
      `El estampado toca ${s.name('keep-out', p.keepOut)}, donde no se puede estampar.`,
    'too-large-for-bed': (p, s) =>
      `El estampado, ${s.size(p.widthMm, p.heightMm)}, no cabe en la mesa de ${s.size(p.bedWidthMm, p.bedHeightMm)}.`,
    'too-large-for-sheet': (p, s) =>
      `El estampado, ${s.size(p.widthMm, p.heightMm)}, no cabe en una hoja de ${s.size(p.sheetWidthMm, p.sheetHeightMm)}.`,
    'fiber-unfit': (p, s) =>
      `Hace falta al menos ${s.percent(p.leastShare)} de ${s.anyOf(fibers, p.fibers)}; esta tela tiene ${s.percent(p.share)}.`,
    'cloth-too-light': 'La tela es demasiado clara.',
    'cloth-too-dark': 'La tela es demasiado oscura.',
    'line-too-thin': (p, s) =>
      `La línea más fina tendría ${s.fine(p.lineMm)}; las líneas aguantan desde ${s.fine(p.leastMm)}.`,
    'gap-too-thin': (p, s) =>
      `El hueco más fino tendría ${s.fine(p.gapMm)}; los huecos quedan abiertos desde ${s.fine(p.leastMm)}.`,
    'too-few-pixels': (p, s) =>
      `A este tamaño la imagen tiene ${s.n(p.dpi)} puntos por pulgada; hacen falta ${s.n(p.leastDpi)}.`,
    'soft-alpha-lost': (p, s) =>
      `El ${s.percent(p.share)} de la tinta es translúcido, como en sombras y fundidos, y se perdería.`,
    'too-few-pieces': (p, s) => `Empieza en ${s.plural(p.least, pieces)}; hay ${s.n(p.pieces)}.`,
    'too-many-pieces': (p, s) => `Se hace hasta ${s.plural(p.most, pieces)}; hay ${s.n(p.pieces)}.`,
    'hand-too-thick': 'Se notaría más de lo que pide el acabado.',
    'gloss-out-of-bounds': 'Su brillo no es el que pide el acabado.',
    'wash-life-too-short': (p, s) =>
      `Dura ${s.plural(p.washLife, { one: '# lavado', many: '# de lavados', other: '# lavados' })}; el acabado pide ${s.n(p.least)}.`,
    'breathability-too-low': 'Transpira menos de lo que pide el acabado.',
    'not-together-on-a-piece': (p, s) => `No puede ir en la misma pieza que ${s.name('method', p.other)}.`,
    'no-station': 'Ninguna prensa o impresora del taller puede sujetarlo.',
    'nothing-to-print': 'En este diseño no hay tinta.',
    'method-not-asked': (p, s) => `Usted pidió ${s.name('method', p.asked)}.`,
    'no-placement': 'Aún no hay nada que estampar: añada un diseño o nombres.',
    'no-method-fits': 'Tal como está, el taller no puede estamparlo.',
    'needed-by-too-early': (p, s) =>
      `No se puede cumplir para el ${s.day(p.neededBy)}. El primer día posible es ${s.day(p.earliest)}.`,
    'plan-full': (p, s) =>
      `El taller tiene ocupados los próximos ${s.plural(p.horizonDays, { one: '# día', many: '# de días', other: '# días' })}.`,
    'only-fit': (p, s) => `${s.name('method', p.method)} es el único modo que sirve.`,
    'best-margin-rate': (p, s) =>
      `Con ${s.name('method', p.method)} el taller avanza mejor que con ${s.name('method', p.other)}.`,
    'lowest-price': (p, s) =>
      `${s.name('method', p.method)} cuesta ${s.money(p.difference)} menos que ${s.name('method', p.other)}.`,
    'earliest-day': (p, s) =>
      `Con ${s.name('method', p.method)} está listo ${s.day(p.day)}; con ${s.name('method', p.other)}, ${s.day(p.otherDay)}.`,
    'equal-so-listed-first': (p, s) =>
      `${s.name('method', p.method)} y ${s.name('method', p.other)} quedan igual; el taller prefiere el primero.`,
    'finish-asks': (p, s) =>
      `Decide el acabado ${s.name('finish', p.finish)}: ${s.word(qualities, p.quality)}.`,
    'keeps-needed-by': (p, s) =>
      `${s.name('method', p.method)} llega al ${s.day(p.neededBy)}; con ${s.name('method', p.other)} estaría ${s.day(p.otherDay)}.`,
    'underbase-needed': (p, s) => `Sobre ${s.name('color', p.color)} va una capa de blanco bajo los colores.`,
    'treatment-added': (p, s) =>
      `Se añade ${s.name('treatment', p.treatment)} por el acabado ${s.name('finish', p.finish)}.`,
    'many-alike': (p, s) =>
      `${s.plural(p.pieces, { one: '# pieza', many: '# de piezas iguales', other: '# piezas iguales' })}: una preparación sirve para todas.`,
    'each-different': (p, s) =>
      `${s.plural(p.pieces, {
        one: '# pieza',
        many: '# de piezas, cada una distinta',
        other: '# piezas, cada una distinta',
      })}: cada una es un estampado propio.`,
    'bound-reached': (p, s) =>
      `Había demasiadas posibilidades para probarlas todas; esta queda a ${s.percent(p.gap)} de la mejor como mucho.`,
    'next-count-cheaper': (p, s) => `Desde ${s.plural(p.count, pieces)}, cada una cuesta ${s.money(p.unit)}.`,
    'count-capped': (p, s) =>
      `No paga más de lo que costarían ${s.plural(p.count, pieces)}: ${s.money(p.total)}.`,
    'floor-applied': 'El taller no puede hacerlo por menos.',
    'set-up-fee': 'La preparación se paga una vez.',
    'rush-fee': 'El día más temprano tiene un recargo.',
    'size-surcharge': 'Algunas tallas cuestan más.',
    'after-cutoff': (p, s) =>
      `Los pedidos después de las ${s.time(p.cutoff)} cuentan para el siguiente día laborable.`,
    'move-onto-face': 'Muévalo dentro de la zona imprimible.',
    'make-smaller': (p, s) => `Hágalo de ${s.len(p.widthMm)} de ancho como mucho.`,
    'use-other-face': (p, s) => `Colóquelo en ${s.name('face', p.face)}.`,
    'use-other-finish': (p, s) => `Elija el acabado ${s.name('finish', p.finish)}.`,
    'use-other-blank': (p, s) => `Elija otra prenda: ${s.name('blank', p.blank)}.`,
    'thicken-lines': (p, s) => `Engrose las líneas hasta ${s.fine(p.toMm)}.`,
    'widen-gaps': (p, s) => `Ensanche los huecos hasta ${s.fine(p.toMm)}.`,
    'larger-letters': (p, s) =>
      `Haga las letras de ${s.len(p.capHeightMm)} de alto y permita ${s.len(p.widthMm)} de ancho.`,
    'use-other-color': (p, s) => `Elija el color ${s.name('color', p.color)}.`,
    'fewer-pieces': (p, s) => `Pida ${s.plural(p.pieces, pieces)} o menos.`,
    'more-pieces': (p, s) => `Pida ${s.plural(p.pieces, pieces)} o más.`,
    'firm-up-soft-alpha': 'Haga opacas las partes translúcidas.',
    'sharper-file': (p, s) => `Envíe un archivo de al menos ${s.n(p.widthPx)} píxeles de ancho.`,
    'choose-later-day': (p, s) => `Elija ${s.day(p.day)} o más tarde.`,
    'pay-rush': (p, s) => `Con urgencia, por ${s.money(p.fee)}, está listo ${s.day(p.day)}.`,
    'rush-brings-nothing-earlier': (p, s) => `Con urgencia no estaría listo antes: ${s.day(p.day)}.`,
    'method-flips-below': (p, s) => `Hasta ${s.plural(p.count, pieces)} sería ${s.name('method', p.method)}.`,
    'method-flips-at': (p, s) => `Desde ${s.plural(p.count, pieces)} sería ${s.name('method', p.method)}.`,
  },
  findings: {
    'nothing-to-print': 'La imagen está vacía: no hay nada que estampar.',
    'too-few-pixels': (p, s) =>
      `A ${s.len(p.widthMm)} de ancho la imagen tiene ${s.n(p.dpi)} puntos por pulgada y se verá borrosa. Es nítida hasta ${s.len(p.goodWidthMm)}, o con un archivo de ${s.n(p.neededWidthPx)} píxeles de ancho.`,
    'thin-lines': (p, s) =>
      `Las líneas de solo ${s.fine(p.lineMm)} pueden romperse; aguantan desde ${s.fine(p.leastMm)}, que tienen a ${s.len(p.goodWidthMm)} de ancho.`,
    'thin-gaps': (p, s) =>
      `Los huecos de solo ${s.fine(p.gapMm)} pueden llenarse de tinta; quedan abiertos desde ${s.fine(p.leastMm)}, que tienen a ${s.len(p.goodWidthMm)} de ancho.`,
    'soft-alpha': (p, s) =>
      `El ${s.percent(p.share)} de la tinta es translúcido, como en sombras y fundidos. Sale opaco o no sale.`,
    'background-box': (p, s) =>
      `El motivo está en un recuadro de color ${s.text(p.hex)}; el recuadro también se estampa.`,
    vanishes: (p, s) => `El ${s.percent(p.share)} de la tinta se parece tanto a la tela que no se verá.`,
    'light-rim': 'Ha quedado un borde claro alrededor del motivo, como al recortar sobre blanco.',
    'out-of-gamut': (p, s) =>
      `Algunos colores no se alcanzan con tinta y saldrán más apagados: ${s.list(p.colors)}.`,
    'large-solid': (p, s) =>
      `Una superficie de ${s.len(p.diameterMm)} no deja pasar el aire; en puntos finos se lleva mejor.`,
    'mostly-empty': (p, s) =>
      `La tinta ocupa el ${s.percent(p.share)} de la imagen. Se coloca según la tinta, no según la hoja vacía.`,
    'extreme-shape': (p, s) =>
      `El diseño es ${s.n(p.ratio)} veces más largo que alto o ancho. Revise su tamaño.`,
    'source-note': (p, s) => formatNote(messages.notes, p, s),
  },
  remedies: {
    'remove-background': 'Quitar el fondo',
    trim: 'Recortar los bordes vacíos',
    'firm-up': 'Hacer opacas las partes translúcidas',
    'screen-soft': 'Pasar las partes translúcidas a puntos finos',
    thicken: 'Engrosar las líneas finas',
    outline: 'Poner un contorno alrededor',
    'screen-solids': 'Pasar las superficies grandes a puntos finos',
    recolor: 'Estampar en otro color',
  },
  notes: {
    'turned-by-metadata': 'La imagen estaba guardada girada; se muestra derecha.',
    'cmyk-converted':
      'El archivo tiene colores de imprenta (CMYK); se han convertido y pueden verse algo distintos.',
    'wide-gamut-converted': 'El archivo tiene más colores que una pantalla; se han ajustado.',
    'sixteen-bit-reduced':
      'El archivo tiene matices más finos de los que se pueden estampar; se han reducido.',
    'first-frame-only': (p, s) =>
      `El archivo es animado; se estampa la primera de ${s.plural(p.frames, { one: '# imagen', many: '# de imágenes', other: '# imágenes' })}.`,
    'first-page-only': (p, s) =>
      `Se estampa la primera de ${s.plural(p.pages, { one: '# página', many: '# de páginas', other: '# páginas' })}.`,
    'missing-font': (p, s) =>
      `El taller no tiene la letra ${s.list(p.fonts)}; otra la sustituye. Envíe el texto en trazados para conservarla.`,
    'no-size-in-file': 'El archivo no dice su tamaño; indique el ancho que desea.',
    'external-reference-dropped': (p, s) =>
      s.plural(p.count, {
        one: 'Falta una imagen que el archivo solo menciona.',
        many: 'Faltan # de imágenes que el archivo solo menciona.',
        other: 'Faltan # imágenes que el archivo solo menciona.',
      }),
    'active-content-dropped': 'El archivo llevaba un programa; se ha dejado fuera.',
    'name-does-not-match': (p, s) => `El archivo se llama ${s.text(p.named)} y es ${s.text(p.found)}.`,
    reduced: (p, s) =>
      `La imagen, de ${s.n(p.fromWidthPx)} × ${s.n(p.fromHeightPx)} píxeles, es mayor de lo que se puede usar y se ha reducido.`,
  },
  charges: {
    'size-surcharge': (p, s) => (p.size ? `Talla ${s.name('size', p.size)}` : 'Tallas grandes'),
    'extra-placement': 'Más estampados',
    names: 'Nombres',
    'finish-surcharge': 'Acabado',
    'break-cap': 'No más que el siguiente tramo',
    'set-up-order': 'Preparación',
    'set-up-design': 'Preparación del diseño',
    rush: 'Urgencia',
    delivery: 'Entrega',
    rounding: 'Redondeo',
  },
  problems: {
    'malformed-json': 'El taller no pudo leer lo enviado. Inténtelo de nuevo.',
    'invalid-input': 'Algo en la hoja no está como debe.',
    'missing-key': 'Para esto hace falta una clave.',
    'wrong-key': 'La clave no es válida.',
    'not-allowed': 'Esa clave no lo permite.',
    'not-found': 'Aquí no hay nada.',
    'method-not-allowed': 'El taller no admite eso aquí.',
    'unknown-shop': 'No existe ese taller.',
    'unknown-artwork': 'El taller ya no tiene este diseño. Añádalo otra vez.',
    'unknown-id': 'El taller ya no ofrece algo de esta hoja. Elija de nuevo.',
    'artwork-in-use': 'Este diseño pertenece a un pedido y se conserva.',
    'quote-expired': 'El precio valía hasta ahora. Aquí tiene uno nuevo.',
    'quote-altered': 'El precio no viene de este taller.',
    'slip-differs': 'La hoja ha cambiado desde que se calculó el precio. Aquí tiene el nuevo.',
    'day-not-kept': 'Otro pedido acaba de ocupar ese día. Aquí tiene el nuevo.',
    'key-reused': 'Este pedido ya se envió antes con otro contenido.',
    'still-running': 'Su pedido ya se está haciendo. Un momento.',
    'precondition-failed': 'Ha cambiado desde que se leyó.',
    'precondition-required': 'Indique a qué versión se refiere.',
    'catalog-faulty': 'El catálogo tiene errores.',
    'too-large': 'El archivo es demasiado grande.',
    'upload-protocol': 'No se pudo enviar el archivo: el taller usa otra versión del protocolo de envío.',
    'upload-offset': 'Una parte del archivo se perdió y se envía de nuevo.',
    'upload-altered': 'El archivo cambió por el camino. Envíelo de nuevo.',
    'unsupported-file': 'De este tipo de archivo no se puede estampar. Envíe PNG, JPEG, SVG o PDF.',
    'unreadable-file':
      'El archivo no se puede leer; quizá esté dañado o cortado. Guárdelo de nuevo y envíelo otra vez.',
    'unsupported-media': 'Ese tipo de contenido no se admite aquí.',
    'too-many-requests': 'Eso fue mucho a la vez. Espere un momento.',
    'state-not-allowed': 'El pedido no puede pasar a ese estado.',
    busy: 'El taller tiene mucho trabajo ahora. Se intentará de nuevo.',
    'server-fault': 'Algo ha fallado en el taller. Su hoja se conserva.',
  },
  states: {
    accepted: 'Aceptado',
    'in-work': 'En marcha',
    packed: 'Empaquetado',
    'handed-over': 'Entregado',
    cancelled: 'Anulado',
  },
  late: {
    'not-kept': 'No podemos cumplir el día prometido; lo sentimos.',
    'no-day-yet': 'aún no se sabe',
    equipment: 'Una máquina que su pedido necesita está fuera de servicio.',
    remake: 'Hay que repetir piezas de su pedido.',
    'work-before': 'Un trabajo anterior a su pedido tardó más de lo previsto.',
    hours: 'Cambió el horario del taller.',
    people: 'Hay menos personas trabajando de lo previsto.',
  },
  stage: {
    drawing: (_say, view) => `${view}, dibujado a escala`,
    artworks: 'Diseños sobre el dibujo',
    keys: 'Las flechas lo mueven, con Mayús más lejos. Más y menos cambian el ancho, los corchetes lo giran, Supr lo quita, Esc lo suelta.',
    artwork: (say, p) => `${p.name} en ${p.face}: ${say.size(p.widthMm, p.heightMm)}, ${place(say, p)}`,
    moved: (say, p) => `${place(say, p)}, ${say.len(p.widthMm)} de ancho`,
    wide: (say, widthMm) => `${say.len(widthMm)} de ancho`,
    outside: 'sale de la zona de estampado',
    inKeepOut: (_say, name) => `toca ${name}`,
    loading: 'la imagen está en camino',
    failed: 'la imagen no se puede mostrar',
    dropHere: 'Suelte aquí el diseño',
    chooseFile: 'o elija un archivo',
  },
};
