import type { FirstMessages } from '../messages.ts';

// "many" is the form before millions: "1 000 000 de piezas"
const pieces = { one: '# pieza', many: '# de piezas', other: '# piezas' } as const;

/** Spanish: what the slip says from its first sight on. */
export const messages: FirstMessages = {
  direction: 'ltr',
  ui: {
    slip: 'Hoja de pedido',
    loading: 'Un momento',
    'try-again': 'Intentar de nuevo',
    undo: 'Deshacer',
    redo: 'Rehacer',
    'not-saved': 'Sin guardar: no queda espacio en este dispositivo',
    offline: 'Sin conexión. Su hoja se conserva; los precios vuelven con la línea.',
    'copy-link': 'Copiar un enlace a esta hoja',
    'link-copied': 'Enlace copiado',
    print: 'Imprimir la hoja',
    millimeters: 'Milímetros',
    inches: 'Pulgadas',
    'line-of': (p, s) => `Línea ${s.n(p.number)}: ${s.text(p.name)}`,
    'add-line': 'Añadir otro artículo',
    'duplicate-line': 'Copiar esta línea',
    'remove-line': 'Quitar esta línea',
    'new-item': 'Artículo nuevo',
    'no-items': 'Ahora mismo no hay nada que pedir aquí.',
    item: 'Artículo',
    color: 'Color',
    sizes: 'Tallas',
    pieces: (p, s) => s.plural(p.count, pieces),
    'count-range': (p, s) => `Un número entero hasta ${s.n(p.most)}`,
    'lack-item': 'Elija un artículo',
    'lack-color': 'Elija un color',
    'lack-sizes': 'Indique cuántas piezas de cada talla',
    'lack-artwork': 'Añada un diseño o nombres',
    'lack-upload': 'Su diseño aún va de camino al taller',
    'lack-finish': 'Elija un acabado',
    'lack-names': 'La lista necesita un nombre por pieza',
    artwork: 'Diseño',
    placements: (p, s) =>
      s.plural(p.count, { one: '# estampado', many: '# de estampados', other: '# estampados' }),
    'add-artwork': 'Añadir un diseño',
    'drop-here': 'o suelte aquí un archivo',
    'file-kinds': 'PNG, JPEG, WebP, AVIF, TIFF, GIF, SVG o PDF',
    'use-again': (p, s) => `Usar ${s.text(p.name)} otra vez`,
    sending: (p, s) => `Se está enviando ${s.text(p.name)}`,
    face: 'Lugar',
    names: 'Nombres',
    'add-names': 'Añadir un nombre o número a cada pieza',
    'cell-refused': (p, s) =>
      `Fila ${s.n(p.row)}, columna ${s.n(p.column)}: «${s.text(p.text)}» no se ha tomado. Una cantidad es un número entero hasta ${s.n(p.most)} junto a una talla que exista.`,
    'cells-refused': (p, s) =>
      s.plural(p.count, {
        one: '# celda más no se ha tomado',
        many: '# de celdas más no se han tomado',
        other: '# celdas más no se han tomado',
      }),
    finish: 'Acabado',
    method: 'Estampado con',
    'unit-price': 'Cada una',
    'unit-price-from': 'Cada una, desde',
    total: 'Total',
    'price-by-count': 'Precio según la cantidad',
    why: 'Por qué',
    'what-would-help': 'Ayudaría:',
    'same-day': 'listo el mismo día',
    'days-later': (p, s) =>
      s.plural(p.count, { one: '# día después', many: '# de días después', other: '# días después' }),
    'days-earlier': (p, s) =>
      s.plural(p.count, { one: '# día antes', many: '# de días antes', other: '# días antes' }),
    'hand-and-wash': (p, s) =>
      `${s.text(p.hand)}, ${s.plural(p.washes, {
        one: 'dura # lavado',
        many: 'dura # de lavados',
        other: 'dura # lavados',
      })}`,
    'hand-0': 'no se nota',
    'hand-1': 'apenas se nota',
    'hand-2': 'se nota',
    'hand-3': 'una capa gruesa',
    ready: 'Listo',
    'needed-by': 'Lo necesito para',
    'no-day': 'sin prisa',
    'any-day': 'Sin prisa',
    'choose-day': 'Elegir un día',
    delivery: 'Entrega',
    rush: 'Urgente',
    'rush-would': (p, s) => `${s.moreOrLess(p.fee)}, listo ${s.day(p.day)}`,
    'spoken-answer': (p, s) =>
      `${s.money(p.unit)} cada una, ${s.money(p.total)} en total, listo ${s.day(p.day)}`,
    'to-order': 'Ir al pedido',
    'proof-missing':
      'Ahora mismo no se puede dibujar la prueba. Puede hacer el pedido igualmente; el taller se la enseña antes de estampar.',
    'order-number': (p, s) => `Pedido ${s.text(p.number)}`,
    'status-page': 'Página de este pedido',
  },
};
